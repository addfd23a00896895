// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.analysis.batch.Capability;
import millrace.assessment.comparison.BatchDistribution;
import millrace.assessment.comparison.BatchDistribution.Statistics;
import millrace.assessment.comparison.Comparison;
import millrace.evidence.Measurand;
import millrace.report.table.TextColumns;
import millrace.report.words.ResultFigures;

/** Tables of each limited quantity over all units, one row per range; they fit 80 columns. */
final class LimitedQuantityTables {
  private static final int WIDEST = 30;

  private LimitedQuantityTables() {}

  /** One table per quantity, each after an empty line and its name. */
  static String of(Comparison c) {
    Map<String, List<BatchDistribution>> by = new LinkedHashMap<>();
    for (BatchDistribution d : CapabilityWords.limited(c)) {
      by.computeIfAbsent(name(d.what()), n -> new ArrayList<>()).add(d);
    }
    StringBuilder text = new StringBuilder();
    by.forEach((name, each) -> text.append('\n').append(name).append('\n').append(table(each)));
    return text.toString();
  }

  /** The name of a quantity with its conditions, without the range. */
  static String name(Measurand m) {
    String at = MeasurandWords.at(m);
    return m.quantity().inWords() + (at.isEmpty() ? "" : ", " + at);
  }

  private static String table(List<BatchDistribution> each) {
    boolean known = each.stream().anyMatch(d -> CapabilityWords.capability(d).isPresent());
    TextColumns table =
        new TextColumns(
            WIDEST, "range", "n", "met", "mean", "sd", "limit", known ? "Cpk (interval)" : "");
    for (BatchDistribution d : each) {
      Statistics s = d.statistics().orElseThrow();
      Measurand m = d.what();
      Optional<Capability> capability = CapabilityWords.capability(d);
      table.row(
          m.range().orElse(""),
          String.valueOf(s.spread().n()),
          s.within().map(w -> String.valueOf(w.count())).orElse(""),
          MeasurandWords.among(s.spread(), s.spread().mean(), m),
          MeasurandWords.scatter(s.spread(), m),
          d.limit().map(l -> ResultFigures.limit(l, m.quantity().unit())).orElse("different ones"),
          capability.map(LimitedQuantityTables::index).orElse(""));
    }
    return table.text();
  }

  /** The index, marked if it cannot be trusted; the sentence above the table gives the reason. */
  private static String index(Capability c) {
    return MeasurandWords.index(c.cpk()) + (c.normality().plausible() ? "" : " not normal");
  }
}
