// SPDX-License-Identifier: Apache-2.0
package millrace.report.words;

import java.util.ArrayList;
import java.util.List;
import millrace.assessment.comparison.BatchDriftWatch.Drift;
import millrace.quantity.NumberText;

/** What drifts within a batch, in words. Stateless. */
public final class BatchDriftWords {
  private static final int MOST = 2;

  private BatchDriftWords() {}

  /**
   * What drifts, the largest first, and what to do.
   *
   * @param drifts what drifts; may be empty
   * @return sentences; empty if nothing drifts
   */
  public static List<String> of(List<Drift> drifts) {
    List<String> sentences = new ArrayList<>();
    drifts.stream().limit(MOST).map(BatchDriftWords::sentence).forEach(sentences::add);
    if (drifts.size() > MOST) {
      sentences.add("Other quantities that drift: %s.".formatted(drifts.size() - MOST));
    }
    if (!drifts.isEmpty()) {
      sentences.add(
          "Tell who is in charge of the batch: what changed there (a reel, the fixture, the bench)?"
              + " A check with the reference unit tells whether it is the bench.");
    }
    return sentences;
  }

  private static String sentence(Drift d) {
    String name = d.quantity().inWords() + d.range().map(r -> " of " + r).orElse("");
    double by = d.shift().now() - d.shift().before();
    return "The batch drifts: %s lies %s %s since %s, %s of %s (%s standard deviations)."
        .formatted(
            name,
            ResultFigures.size(Math.abs(by), d.quantity().unit()),
            by > 0 ? "higher" : "lower",
            d.since(),
            NumberText.counted(d.units(), "unit"),
            d.units() + d.unitsBefore(),
            NumberText.significant(Math.abs(d.shift().inSd()), 2));
  }
}
