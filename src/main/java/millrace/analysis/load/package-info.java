/**
 * How the current behaves under load: plateau, compliance, knee (measurement.md 3). Read {@link
 * millrace.analysis.load.LoadCurve} first. Pure functions; thread-safe.
 */
@NullMarked
package millrace.analysis.load;

import org.jspecify.annotations.NullMarked;
