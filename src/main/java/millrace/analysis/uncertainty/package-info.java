/**
 * First-order propagation of named, independent errors (JCGM 100:2008). Read {@link
 * millrace.analysis.uncertainty.Estimate} first. Pure functions on immutable values; thread-safe.
 */
@NullMarked
package millrace.analysis.uncertainty;

import org.jspecify.annotations.NullMarked;
