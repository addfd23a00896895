// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import millrace.analysis.Reference;
import millrace.evidence.Limit;
import millrace.evidence.Limits;
import millrace.verification.Digits;
import millrace.verification.Digits.Origin;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** NIST/SEMATECH e-Handbook of Statistical Methods: the sections that section 8 rests on. */
class HandbookTest {
  private static final String BOOK = "NIST/SEMATECH e-Handbook of Statistical Methods";

  /** Data copied, or none needed, and computed anew with R or SciPy. */
  private static final Digits DIGITS = Digits.of(HandbookTest.class, Origin.RECOMPUTED, BOOK);

  /** Data recalled, whatever was computed from them. */
  private static final Digits RECALLED = Digits.of(HandbookTest.class, Origin.MEMORY, BOOK);

  private static JsonNode json(String name) {
    return Reference.json("handbook/" + name + ".json");
  }

  private static double[] column(String name, String column) {
    return Reference.rows("handbook/" + name + ".csv").stream()
        .mapToDouble(r -> Reference.number(r, column))
        .toArray();
  }

  @Test
  void clopperPearsonIntervalsOf7241() {
    for (Map<String, String> row : Reference.rows("handbook/proportion_7_2_4_1.csv")) {
      ProportionInterval found =
          ProportionInterval.of(
              (int) Reference.number(row, "successes"),
              (int) Reference.number(row, "n"),
              Reference.number(row, "level"));
      DIGITS.agree(
          "7.2.4.1 Clopper-Pearson lower",
          Reference.number(row, "cp_lower"),
          found.interval().lower(),
          1e-9);
      DIGITS.agree(
          "7.2.4.1 Clopper-Pearson upper",
          Reference.number(row, "cp_upper"),
          found.interval().upper(),
          1e-9);
    }
    JsonNode published = json("proportion_7_2_4_1").get("published");
    assertEquals(
        published.get("lower").asDouble(),
        ProportionInterval.of(4, 20, 0.9).interval().lower(),
        1e-6);
  }

  @Test
  void capabilityOf616() {
    JsonNode file = json("capability_6_1_6");
    JsonNode in = file.get("inputs");
    Limit limit = Limits.between(in.get("lsl").asDouble(), in.get("usl").asDouble());
    BatchMeanAndSpread spread =
        new BatchMeanAndSpread(50, in.get("mean").asDouble(), in.get("s").asDouble(), 0, 0, 0);
    Capability.Index cp = Capability.width(limit, spread.sd(), 49, 0.95).orElseThrow();
    Capability.Index cpk = Capability.nearer(limit, spread, spread.sd(), 49, 0.95);
    RECALLED.agree("6.1.6 Cp", file.get("recomputed").get("Cp").asDouble(), cp.value(), 1e-12);
    RECALLED.agree("6.1.6 Cpk", file.get("recomputed").get("Cpk").asDouble(), cpk.value(), 1e-12);
    assertEquals(file.get("published").get("Cpk").asDouble(), cpk.value(), 1e-4);
    JsonNode interval = file.get("confidence");
    interval(RECALLED, interval.get("Cp_interval"), cp.interval(), "6.1.6 interval of Cp");
    interval(
        RECALLED,
        interval.get("Cpk_interval_normal_approx"),
        cpk.interval(),
        "6.1.6 interval of Cpk");
  }

  private static void interval(Digits digits, JsonNode ends, Interval found, String check) {
    digits.agree(check, ends.get(0).asDouble(), found.lower(), 1e-9);
    digits.agree(check, ends.get(1).asDouble(), found.upper(), 1e-9);
  }

  @Test
  void toleranceFactorsOf7263() {
    for (Map<String, String> row : Reference.rows("handbook/tolerance_k_7_2_6_3.csv")) {
      int n = (int) Reference.number(row, "n");
      double share = Reference.number(row, "coverage");
      double confidence = Reference.number(row, "confidence");
      DIGITS.agree(
          "7.2.6.3 two-sided factor",
          Reference.number(row, "k2_exact"),
          ToleranceInterval.twoSidedFactor(n, share, confidence),
          1e-8);
    }
  }

  @Test
  void toleranceIntervalOfData() {
    JsonNode expected = json("tolerance_7_2_6_3").get("data_100ohm");
    BatchMeanAndSpread spread = BatchMeanAndSpread.of(column("tolerance_100ohm", "y"));
    DIGITS.agree("7.2.6.3 mean", expected.get("mean").asDouble(), spread.mean(), 1e-12);
    DIGITS.agree("7.2.6.3 sd", expected.get("sd").asDouble(), spread.sd(), 1e-10);
    double half = ToleranceInterval.twoSidedFactor(spread.n(), 0.9, 0.99) * spread.sd();
    interval(
        DIGITS,
        expected.get("two_sided_90_99_exact"),
        new Interval(spread.mean() - half, spread.mean() + half),
        "7.2.6.3 interval");
  }

  @Test
  void generalizedExtremeStudentizedDeviatesOf13517() {
    JsonNode expected = json("gesd_1_3_5_17_3").get("recomputed");
    double[] values = column("rosner54", "y");
    Outliers found = Outliers.of(values, 10, 0.05);
    for (int i = 0; i < 10; i++) {
      Outliers.Step step = found.steps().get(i);
      DIGITS.agree("1.3.5.17.3 R", expected.get("R").get(i).asDouble(), step.deviate(), 1e-9);
      DIGITS.agree(
          "1.3.5.17.3 lambda", expected.get("lambda").get(i).asDouble(), step.critical(), 1e-9);
      assertEquals(expected.get("removed").get(i).asDouble(), values[step.place()]);
    }
    assertEquals(expected.get("outliers").asInt(), found.places().size());
  }

  @Test
  void individualsAndMovingRangesOf6322() {
    JsonNode file = json("individuals_mr_6_3_2_2");
    IndividualsChart found = IndividualsChart.of(column("flowrate", "y"));
    JsonNode expected = file.get("recomputed");
    RECALLED.agree(
        "6.3.2.2 mean moving range", expected.get("mr_bar").asDouble(), found.meanRange(), 1e-9);
    RECALLED.agree("6.3.2.2 centre", expected.get("center").asDouble(), found.centre(), 1e-9);
    RECALLED.agree(
        "6.3.2.2 upper limit",
        expected.get("ucl_with_d2_2_over_sqrt_pi").asDouble(),
        found.limits().upper(),
        1e-9);
    assertEquals(file.get("published").get("ucl").asDouble(), found.limits().upper(), 2e-3);
    assertEquals(expected.get("ucl_mr_3.267").asDouble(), found.rangeLimit(), 2e-3);
    assertFalse(found.signals().stream().anyMatch(b -> b.rule() == ChartSignal.Rule.BEYOND));
  }

  @Test
  void welchComparisonOf1353() {
    JsonNode expected = json("two_sample_auto83b").get("recomputed").get("unequal");
    List<Map<String, String>> rows = Reference.rows("handbook/auto83b.csv");
    TwoBatches found = TwoBatches.of(group(rows, true), group(rows, false), 0.95);
    DIGITS.agree("1.3.5.3 t", expected.get("T").asDouble(), found.t(), 1e-9);
    DIGITS.agree("1.3.5.3 df", expected.get("df").asDouble(), found.degreesOfFreedom(), 1e-9);
    interval(DIGITS, expected.get("ci95"), found.interval(), "1.3.5.3 interval");
    assertTrue(found.probability() < 1e-20);
  }

  private static double[] group(List<Map<String, String>> rows, boolean first) {
    String name = rows.get(0).get("group");
    return rows.stream()
        .filter(r -> r.get("group").equals(name) == first)
        .mapToDouble(r -> Reference.number(r, "mpg"))
        .toArray();
  }

  @Test
  void meanAndItsIntervalOf1352() {
    JsonNode expected = json("mean_ci_zarr13").get("recomputed");
    BatchMeanAndSpread found = BatchMeanAndSpread.of(column("zarr13", "y"));
    DIGITS.agree("1.3.5.2 mean", expected.get("mean").asDouble(), found.mean(), 1e-12);
    DIGITS.agree("1.3.5.2 sd", expected.get("sd").asDouble(), found.sd(), 1e-9);
  }

  /** Expected values by scipy; the recipe stands in the file. */
  @ParameterizedTest
  @ValueSource(strings = {"rosner54", "zarr13", "flowrate"})
  void andersonAndDarlingOnTheHandbooksData(String set) {
    JsonNode expected = json("anderson_darling").get("sets").get(set);
    Normality found = Normality.of(column(set, "y"));
    Digits digits = set.equals("flowrate") ? RECALLED : DIGITS;
    digits.agree("Anderson-Darling", expected.get("statistic").asDouble(), found.squaredA(), 1e-9);
    digits.agree(
        "Anderson-Darling probability",
        expected.get("probability").asDouble(),
        found.probability(),
        1e-8);
    assertEquals(!set.equals("rosner54"), found.plausible());
  }

  @Test
  void capabilityOfValuesThatAreNotNormalIsNotToBeBelieved() {
    double[] values = column("rosner54", "y");
    Capability found = Capability.of(values, Limits.between(-2, 8), 0.95).orElseThrow();
    assertEquals(
        "54 values: the interval counts, not the index; 100 are wanted", found.notes().get(0));
    assertTrue(found.notes().get(1).startsWith("not normal (Anderson-Darling, p "));
    Capability fine =
        Capability.of(column("zarr13", "y"), Limits.between(9.19, 9.33), 0.95).orElseThrow();
    assertEquals(List.of(), fine.notes());
    assertFalse(fine.pp().isEmpty());
  }

  /** The section asks for at least 25 values, better 100 (from memory). */
  @Test
  void capabilityOfFewValuesIsNone() {
    double[] values = column("zarr13", "y");
    Limit limit = Limits.between(9.19, 9.33);
    assertTrue(Capability.of(Arrays.copyOf(values, 24), limit, 0.95).isEmpty());
    assertTrue(Capability.of(Arrays.copyOf(values, 25), limit, 0.95).isPresent());
  }
}
