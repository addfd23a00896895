// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.Optional;
import millrace.assessment.comparison.BatchDistribution;
import millrace.assessment.comparison.Comparison;
import millrace.evidence.Limit;
import millrace.evidence.Measurand;

/** Share of a limit that a difference uses up. */
final class DifferenceToLimitShare {
  /**
   * Smallest share of the limit that is reported; smaller differences appear in the tables only.
   */
  static final double LEAST = 0.01;

  private DifferenceToLimitShare() {}

  /** A difference divided by the size of its limit; 0 if there is no limit. */
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
