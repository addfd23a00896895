// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.UnaryOperator;
import millrace.analysis.batch.Capability;
import millrace.assessment.comparison.BatchDistribution;
import millrace.assessment.comparison.BatchDistribution.Statistics;
import millrace.assessment.comparison.Comparison;
import millrace.evidence.Result;
import millrace.report.words.LimitMargin;

/**
 * Capability of a batch against its limits, always with the caveats that limit trust in the
 * figures.
 */
final class CapabilityWords {
  private CapabilityWords() {}

  /** The lowest Cpk with its caveats, or the reason why there is none. */
  static Optional<String> sentence(Comparison c, UnaryOperator<String> set) {
    List<BatchDistribution> limited = limited(c);
    Optional<BatchDistribution> least =
        limited.stream()
            .filter(d -> capability(d).isPresent())
            .min(Comparator.comparingDouble(d -> capability(d).orElseThrow().cpk().value()));
    if (least.isPresent()) {
      BatchDistribution d = least.get();
      return Optional.of(
          "Least capability: %s, in %s; %s units.%s"
              .formatted(
                  indices(capability(d).orElseThrow()),
                  MeasurandWords.name(d.what(), set),
                  n(d),
                  caveats(d)));
    }
    int most = limited.stream().mapToInt(CapabilityWords::n).max().orElse(0);
    boolean few = most > 1 && most < Capability.FEWEST && units(c) > 1;
    return few
        ? Optional.of(
            "No capability is stated: %s units tell none. From %s on the interval of a Cpk holds, %s are wanted (NIST/SEMATECH e-Handbook 6.1.6)."
                .formatted(most, Capability.FEWEST, Capability.ENOUGH))
        : Optional.empty();
  }

  private static long units(Comparison c) {
    return c.runs().stream().map(r -> r.unit()).distinct().count();
  }

  /**
   * Quantities with a limit and at least one known unit; failed ones first, then the nearest to a
   * limit.
   */
  static List<BatchDistribution> limited(Comparison c) {
    return c.distributions().stream()
        .filter(d -> d.judged() && d.statistics().isPresent())
        .map(d -> Map.entry(worst(d), d))
        .sorted(Map.Entry.comparingByKey(LimitMargin.worstFirst()))
        .map(Map.Entry::getValue)
        .toList();
  }

  private static Result worst(BatchDistribution d) {
    return LimitMargin.worst(d.counting(), BatchDistribution.Entry::result)
        .orElseGet(() -> judged(d));
  }

  /** A judged result of units for which only retests are judged. */
  private static Result judged(BatchDistribution d) {
    return d.entries().stream()
        .map(BatchDistribution.Entry::result)
        .filter(r -> r.judgement().isPresent())
        .findFirst()
        .orElseThrow();
  }

  static Optional<Capability> capability(BatchDistribution d) {
    return d.statistics().flatMap(Statistics::capability);
  }

  private static int n(BatchDistribution d) {
    return d.statistics().map(s -> s.spread().n()).orElse(0);
  }

  /** Both indices with their intervals. */
  static String indices(Capability c) {
    return "Cpk %s, Ppk %s".formatted(MeasurandWords.index(c.cpk()), MeasurandWords.index(c.ppk()));
  }

  /** The caveats of a capability index; empty text if there are none. */
  static String caveats(BatchDistribution d) {
    List<String> notes = capability(d).map(Capability::notes).orElse(List.of());
    return notes.isEmpty() ? "" : " Beware: " + String.join("; ", notes) + ".";
  }
}
