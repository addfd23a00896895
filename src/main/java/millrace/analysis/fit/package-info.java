/**
 * Least-squares fits on arrays. Read {@link millrace.analysis.fit.LinearFit} first. Knows nothing
 * of what the numbers mean. Pure functions; thread-safe.
 */
@NullMarked
package millrace.analysis.fit;

import org.jspecify.annotations.NullMarked;
