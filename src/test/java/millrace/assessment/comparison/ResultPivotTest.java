// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import static millrace.assessment.comparison.Batch.error;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import millrace.analysis.Reference;
import millrace.analysis.batch.BatchMeanAndSpread;
import millrace.assessment.comparison.Batch.Order;
import millrace.report.comparison.ComparisonTable;
import millrace.report.comparison.ScatterSourceTable;
import millrace.report.json.ComparisonJson;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Results set group beside group. */
class ResultPivotTest {
  @TempDir Path folder;
  @AutoClose private Batch batch;

  @BeforeEach
  void openBatch() {
    batch = new Batch(folder);
  }

  private static BatchMeanAndSpread cell(ResultsByGroup by, int group) {
    return by.rows().get(0).cells().get(group).orElseThrow();
  }

  /**
   * Resistivity of silicon wafers by five instruments: sums of squares between and within groups,
   * put together from mean and scatter of each (NIST Statistical Reference Datasets, one-way
   * analysis of variance, SiRstv, certified values).
   */
  @Test
  void meanAndScatterOfEachGroupGiveTheCertifiedSumsOfSquares() {
    int unit = 0;
    for (Map<String, String> row : Reference.rows("strd/anova/SiRstv.csv")) {
      unit++;
      batch.run(
          Order.of("U" + unit).by("instrument " + row.get("group")),
          List.of(error(Reference.number(row, "y"))));
    }
    assertEquals(25, unit);
    Comparison c = batch.compared();
    ResultsByGroup by = ResultPivot.of(c, List.of(ComparisonFactor.OPERATOR));
    assertEquals(5, by.groups().size());
    List<BatchMeanAndSpread> cells =
        by.rows().get(0).cells().stream().flatMap(Optional::stream).toList();
    double all = c.distributions().get(0).statistics().orElseThrow().spread().mean();
    JsonNode certified = Reference.json("strd/anova/SiRstv.json").get("certified");
    assertEquals(
        certified.at("/between/ss").asDouble(),
        cells.stream().mapToDouble(s -> s.n() * Math.pow(s.mean() - all, 2)).sum(),
        1e-10);
    assertEquals(
        certified.at("/within/ss").asDouble(),
        cells.stream().mapToDouble(s -> (s.n() - 1) * s.sd() * s.sd()).sum(),
        1e-10);
    // Groups of one size: restricted likelihood gives what mean squares give.
    double between =
        Reference.json("strd/anova/SiRstv.json")
            .at("/derived/between_group_variance_component")
            .asDouble();
    assertEquals(between, variance(by, "operator"), 1e-7);
    assertEquals(certified.at("/within/ms").asDouble(), variance(by, "unit to unit"), 1e-7);
  }

  private static double variance(ResultsByGroup by, String source) {
    double sd =
        by.rows().get(0).sources().stream()
            .filter(s -> s.name().startsWith(source))
            .findFirst()
            .orElseThrow()
            .component()
            .sd();
    return sd * sd;
  }

  @Test
  void saysWhichFactorsCannotBeToldApartAndPutsTheLargestSourceFirst() {
    for (int i = 0; i < 40; i++) {
      String name = i % 4 < 2 ? "Ada" : "Bo";
      batch.run(
          Order.of("U" + i).in("B" + i % 5).by(name).with("shift", name),
          List.of(error(i * 37 % 40 * 0.1 + (i % 4 < 2 ? 30 : 0) + i % 5 * 0.2)));
    }
    Comparison c = batch.compared();
    ResultsByGroup by =
        ResultPivot.of(
            c,
            List.of(
                ComparisonFactor.SLOT,
                ComparisonFactor.OPERATOR,
                ComparisonFactor.SHIFT,
                ComparisonFactor.BATCH));
    assertEquals(
        List.of("operator with shift", "unit to unit, with the measurement", "batch"),
        by.rows().get(0).sources().stream().map(ScatterSource::name).toList());
    assertEquals(
        1, by.rows().get(0).sources().stream().mapToDouble(ScatterSource::share).sum(), 1e-12);
    List<String> said = ScatterSourceTable.sentences(by);
    assertTrue(
        said.get(0)
            .matches(
                "(99|100) % of the variance of current error of 1mA.* comes with the operator.*"),
        said.toString());
    assertTrue(
        said.contains("Note: all runs are of one slot, which explains no scatter."),
        said.toString());
    assertTrue(
        said.contains(
            "Note: operator and shift always change together, so their parts cannot be told"
                + " apart."),
        said.toString());
  }

  @Test
  void slotsStandInTheOrderOfTheirNumbersAndWhatNobodySaidStandsFirst() {
    for (String slot : List.of("10", "9", "1")) {
      batch.run(Order.of("U" + slot).with("slot", slot), List.of(error(Double.parseDouble(slot))));
    }
    batch.run(Order.of("U0"), List.of(error(0)));
    ResultsByGroup by = ResultPivot.of(batch.compared(), List.of(ComparisonFactor.SLOT));
    assertEquals(List.of(List.of(""), List.of("1"), List.of("9"), List.of("10")), by.groups());
    assertEquals(10, cell(by, 3).mean());
    assertTrue(cell(by, 3).scatter().isEmpty());
  }

  @Test
  void severalFactorsMakeAGroupTogether() {
    for (int i = 0; i < 8; i++) {
      batch.run(Order.of("U" + i).in("B" + i % 2).by("Ada"), List.of(error(i % 2)));
    }
    batch.run(Order.of("U8").in("B1").by("Bo"), List.of(error(5)));
    // A retest is in no mean.
    batch.run(Order.of("U8").in("B1").by("Bo"), List.of(error(50)));
    Comparison c = batch.compared();
    ResultsByGroup by =
        ResultPivot.of(c, List.of(ComparisonFactor.BATCH, ComparisonFactor.OPERATOR));
    assertEquals(
        List.of(List.of("B0", "Ada"), List.of("B1", "Ada"), List.of("B1", "Bo")), by.groups());
    assertEquals(4, cell(by, 1).n());
    assertEquals(5, cell(by, 2).mean());
    String table = ComparisonTable.tables(c, Optional.of(by), false);
    assertTrue(table.contains("\ncurrent error, by batch, operator\n"), table);
    assertTrue(table.contains("\n       B1, Bo           1  5.000 ppm"), table);
  }

  /** As where a datasheet came to have one range more between two batches. */
  @Test
  void aGroupWithoutAValueHasAnEmptyCellAndNullInTheDocument() {
    batch.run(Order.of("U1").in("B1"), List.of(error(1)));
    batch.run(Order.of("U2").in("B2"), List.of());
    Comparison c = batch.compared();
    ResultsByGroup by = ResultPivot.of(c, List.of(ComparisonFactor.BATCH));
    JsonNode groups =
        ComparisonJson.of(c, Optional.of(by), "1").at("/by_group/quantities/0/groups");
    assertEquals(2, groups.size());
    assertEquals("B2", groups.get(1).at("/names/0").asText());
    assertEquals(0, groups.get(1).get("n").asInt());
    assertTrue(groups.get(1).get("mean").isNull() && groups.get(1).has("standard_deviation"));
    assertFalse(groups.get(0).get("mean").isNull());
    assertTrue(ComparisonJson.of(c, Optional.empty(), "1").get("by_group").isNull());
  }

  @Test
  void aSlotThatReadsHighIsASentence() {
    Stream.iterate(0, i -> i < 36, i -> i + 1)
        .forEach(
            i ->
                batch.run(
                    Order.of("U" + i).with("slot", String.valueOf(i % 3 + 1)),
                    List.of(error(i % 4 + (i % 3 == 2 ? 20 : 0)))));
    List<String> said = ComparisonTable.paragraphs(batch.compared());
    assertTrue(
        said.stream()
            .anyMatch(
                s ->
                    s.startsWith(
                        "Slot 3 differs from the others in 1 quantity, most against its limit in"
                            + " current error of 1mA: by (20.00 ± 0.87) ppm.")),
        said.toString());
  }
}
