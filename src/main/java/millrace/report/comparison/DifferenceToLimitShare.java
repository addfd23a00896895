// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.Optional;
import millrace.assessment.comparison.BatchDistribution;
import millrace.assessment.comparison.Comparison;
import millrace.evidence.Limit;
import millrace.evidence.Measurand;

/** What a difference is against the limit that it eats up. */
final class DifferenceToLimitShare {
  /** Differences below this share of the limit stay in the tables alone. */
  static final double LEAST = 0.01;

  private DifferenceToLimitShare() {}

  /** A difference over the size of its limit; 0 where there is none. */
  static double of(double difference, Measurand what, Comparison in) {
    return limit(what, in).map(l -> Math.abs(difference) / size(l)).orElse(0.0);
  }

  private static Optional<Limit> limit(Measurand what, Comparison in) {
    return in.distributions().stream()
        .filter(d -> d.what().equals(what))
        .map(BatchDistribution::limit)
        .flatMap(Optional::stream)
        .findFirst();
  }

  private static double size(Limit limit) {
    double size = Math.max(Math.abs(limit.lower().orElse(0)), Math.abs(limit.upper().orElse(0)));
    return size == 0 ? 1 : size;
  }
}
