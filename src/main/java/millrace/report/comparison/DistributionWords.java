// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.analysis.batch.Capability;
import millrace.assessment.comparison.BatchDistribution;
import millrace.assessment.comparison.BatchDistribution.Statistics;
import millrace.evidence.ComputationOutcome;
import millrace.report.words.ResultFigures;

/** Text beside the chart of a distribution. */
final class DistributionWords {
  private DistributionWords() {}

  /** Mean, standard deviation and U. */
  static String figures(BatchDistribution d) {
    Statistics s = d.statistics().orElseThrow();
    double u =
        d.counting().stream()
            .map(e -> e.result().outcome())
            .filter(ComputationOutcome.Value.class::isInstance)
            .flatMap(o -> ((ComputationOutcome.Value) o).uncertainty().stream())
            .mapToDouble(ComputationOutcome.Uncertainty::expanded)
            .max()
            .orElse(0);
    return "%s units: mean %s, standard deviation %s, from %s to %s; U at most %s.%s"
        .formatted(
            s.spread().n(),
            MeasurandWords.among(s.spread(), s.spread().mean(), d.what()),
            MeasurandWords.scatter(s.spread(), d.what()),
            MeasurandWords.among(s.spread(), s.spread().least(), d.what()),
            MeasurandWords.among(s.spread(), s.spread().largest(), d.what()),
            ResultFigures.size(u, d.what().quantity().unit()),
            s.within().map(w -> " Limit met: " + MeasurandWords.share(w) + ".").orElse(""));
  }

  /** Capability and the spread of the units, with the caveats. */
  static List<String> believed(BatchDistribution d) {
    Statistics s = d.statistics().orElseThrow();
    List<String> lines = new ArrayList<>();
    Optional<Capability> capability = s.capability();
    capability.ifPresent(
        c -> lines.add(CapabilityWords.indices(c) + "." + CapabilityWords.caveats(d)));
    s.tolerance()
        .ifPresent(
            t ->
                lines.add(
                    "95 %% of all units lie from %s to %s, with 95 %% confidence, %s."
                        .formatted(
                            MeasurandWords.among(s.spread(), t.lower(), d.what()),
                            MeasurandWords.among(s.spread(), t.upper(), d.what()),
                            normal(capability))));
    if (!s.outliers().isEmpty()) {
      lines.add("Outliers: " + ComparisonWords.named(d, s.outliers()) + ".");
    }
    return lines;
  }

  private static String normal(Optional<Capability> capability) {
    return capability.filter(c -> !c.normality().plausible()).isPresent()
        ? "were they normal, which they are not"
        : "if they are normal";
  }
}
