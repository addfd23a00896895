// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.io.Writer;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import millrace.assessment.comparison.BatchDistribution;
import millrace.assessment.comparison.ComparedRun;
import millrace.assessment.comparison.Comparison;
import millrace.assessment.comparison.ComparisonFactor;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Judgement;
import millrace.evidence.Limit;
import millrace.evidence.ResultConditions;
import millrace.quantity.NumberText;

/**
 * A comparison as CSV (IETF, RFC 4180, 2005), one row per run and quantity with the groups of the
 * run, so that any statistics software can repeat the computation. One thread.
 */
public final class ComparisonCsv {
  private static final List<String> HEADER =
      List.of(
          "run",
          "run_uuid",
          "unit",
          "origin",
          "batch",
          "started_at",
          "quantity",
          "range",
          "at",
          "value",
          "value_unit",
          "expanded_uncertainty",
          "lower_limit",
          "upper_limit",
          "guarded_lower",
          "guarded_upper",
          "conformity",
          "unit_passed",
          "counts",
          "outlier",
          "bound_or_missing");

  private ComparisonCsv() {}

  /**
   * Writes a comparison.
   *
   * @param comparison the comparison
   * @param out the destination; flushed, not closed
   */
  public static void write(Comparison comparison, Writer out) {
    List<String> header = new ArrayList<>(HEADER);
    List<ComparisonFactor> factors =
        comparison.factors().stream().filter(f -> !f.equals(ComparisonFactor.BATCH)).toList();
    factors.forEach(f -> header.add(HEADER.contains(f.text()) ? "own_" + f.text() : f.text()));
    CsvTable table = new CsvTable(out, header);
    for (BatchDistribution d : comparison.distributions()) {
      for (BatchDistribution.Entry e : d.entries()) {
        List<String> row = new ArrayList<>(row(d, e));
        factors.forEach(f -> row.add(e.run().group(f)));
        table.add(row);
      }
    }
    table.finish();
  }

  private static List<String> row(BatchDistribution d, BatchDistribution.Entry e) {
    ComparedRun run = e.run();
    boolean outlier = d.statistics().filter(s -> s.outliers().contains(run.run().id())).isPresent();
    return Arrays.asList(
        String.valueOf(run.run().id()),
        run.run().uuid().toString(),
        run.unit(),
        run.run().start().origin().text(),
        run.run().start().people().batch().orElse(""),
        run.run().start().startedAt().toString(),
        d.what().quantity().key(),
        d.what().range().orElse(""),
        (d.what().worst() ? "worst point " : "") + at(d.what().at()),
        number(e.value()),
        d.what().quantity().unit(),
        expanded(e.result().outcome()),
        number(e.result().judgement().map(j -> j.limit().lower()).orElse(OptionalDouble.empty())),
        number(e.result().judgement().map(j -> j.limit().upper()).orElse(OptionalDouble.empty())),
        number(d.testLimit().map(Limit::lower).orElse(OptionalDouble.empty())),
        number(d.testLimit().map(Limit::upper).orElse(OptionalDouble.empty())),
        e.result().judgement().map(Judgement::conformity).map(c -> c.text()).orElse(""),
        run.passed() ? "yes" : "no",
        e.counts() ? "yes" : "no",
        outlier ? "yes" : "no",
        rest(e.result().outcome()));
  }

  private static String at(ResultConditions at) {
    return String.join(
        " ",
        at.all().entrySet().stream()
            .map(
                e ->
                    e.getKey().text()
                        + "="
                        + (e.getValue() instanceof Double v ? NumberText.print(v) : e.getValue()))
            .toList());
  }

  private static String number(OptionalDouble value) {
    return value.isPresent() ? NumberText.print(value.getAsDouble()) : "";
  }

  private static String expanded(ComputationOutcome outcome) {
    return outcome instanceof ComputationOutcome.Value v
        ? v.uncertainty().map(u -> NumberText.print(u.expanded())).orElse("")
        : "";
  }

  private static String rest(ComputationOutcome outcome) {
    if (outcome instanceof ComputationOutcome.Bound b) {
      return b.side().text() + " " + NumberText.print(b.value());
    }
    return outcome instanceof ComputationOutcome.Missing m ? m.reason() : "";
  }
}
