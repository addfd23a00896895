// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import millrace.analysis.batch.ToleranceInterval;
import millrace.time.BackgroundThreads;

/**
 * Factors of tolerance intervals by the number of values, each computed once: one takes as long as
 * reading the results of hundreds of units. Thread-safe.
 */
final class ToleranceFactors {
  /** Fewest values of an interval that says anything. */
  static final int FEWEST = 3;

  private static final double SHARE = 0.95;
  private static final double CONFIDENCE = 0.95;

  private final Map<Integer, Double> known = new ConcurrentHashMap<>();

  /** Computes the factor of so many values in another thread, which is likely to be asked for. */
  void ahead(long values) {
    if (values >= FEWEST) {
      BackgroundThreads.of("millrace-tolerance", () -> of((int) values)).start();
    }
  }

  /** The factor of so many values, see {@link ToleranceInterval#twoSidedFactor}. */
  double of(int values) {
    return known.computeIfAbsent(
        values, n -> ToleranceInterval.twoSidedFactor(n, SHARE, CONFIDENCE));
  }
}
