// SPDX-License-Identifier: Apache-2.0
package millrace.verification;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ForkJoinPool;
import millrace.analysis.Reference;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.MonteCarlo;
import millrace.analysis.uncertainty.MonteCarlo.Finding;
import millrace.analysis.uncertainty.MonteCarlo.Plan;
import millrace.evidence.ComputationOutcome;
import millrace.time.Seeds;
import millrace.verification.Digits.Origin;
import org.junit.jupiter.api.Test;

/** JCGM 101:2008, the examples of clause 9. */
class Jcgm101Test {
  private static final Digits DIGITS = Digits.of(Jcgm101Test.class, Origin.MEMORY, "JCGM 101:2008");
  private static final Plan PLAN = new Plan(new Seeds(101), 0.95, 4_000_000, true);

  private static Finding sum(List<Estimate> inputs) {
    return MonteCarlo.run(inputs, x -> OptionalDouble.of(Arrays.stream(x).sum()), PLAN)
        .orElseThrow();
  }

  private static Estimate rectangular(String name, double u) {
    return Estimate.exact(0)
        .with(ErrorSource.within(name, ErrorSource.RUN, name, u * Math.sqrt(3), "1"), 1);
  }

  private static Estimate total(List<Estimate> inputs) {
    double[] ones = new double[inputs.size()];
    Arrays.fill(ones, 1);
    return Estimate.combine(0, ones, inputs);
  }

  private static JsonNode computed(int example) {
    return Reference.json("conformity/jcgm101_9_2_additive.json")
        .get("cases")
        .get(example)
        .get("computed");
  }

  @Test
  void fourNormalInputsOf922AgreeWithFirstOrder() {
    List<Estimate> inputs = new ArrayList<>();
    for (int i = 0; i < 4; i++) {
      inputs.add(
          Estimate.exact(0).with(ErrorSource.normal("x" + i, ErrorSource.RUN, "x", 1, "1"), 1));
    }
    Finding found = sum(inputs);
    assertTrue(found.stable());
    DIGITS.agree("9.2.2 trials", computed(0).get("half_width95").asDouble(), found.upper(), 0.003);
    ComputationOutcome.Uncertainty first = Budget.of(total(inputs)).uncertainty(0.95);
    DIGITS.agree(
        "9.2.2 first order", computed(0).get("half_width95").asDouble(), first.expanded(), 1e-9);
    assertTrue(MonteCarlo.compare(first, found).agrees());
  }

  @Test
  void fourRectangularInputsOf923() {
    List<Estimate> inputs =
        List.of(rectangular("a", 1), rectangular("b", 1), rectangular("c", 1), rectangular("d", 1));
    Finding found = sum(inputs);
    DIGITS.agree(
        "9.2.3 trials", computed(1).get("half_width95_exact").asDouble(), found.upper(), 0.005);
    assertEquals(2, found.standardUncertainty(), 0.01);
  }

  @Test
  void theDominantRectangleOf924IsSeenByTheFirstOrderIntervalToo() {
    List<Estimate> inputs =
        List.of(
            rectangular("a", 1), rectangular("b", 1), rectangular("c", 1), rectangular("d", 10));
    double exact = computed(2).get("half_width95_exact").asDouble();
    DIGITS.agree("9.2.4 trials", exact, sum(inputs).upper(), 0.003);
    ComputationOutcome.Uncertainty first = Budget.of(total(inputs)).uncertainty(0.95);
    // The three small rectangles count as one normal error: 17.0 as published, not the last digit.
    DIGITS.agree("9.2.4 first order", exact, first.expanded(), 0.002);
  }

  @Test
  void massCalibrationOf93ShowsThatFirstOrderIsNotEnough() {
    Estimate reference = normal("m_Rc", 100000, 0.050);
    Estimate added = normal("dm_Rc", 1.234, 0.020);
    Estimate air = within("rho_a", 1.2, 0.1);
    Estimate weight = within("rho_W", 8000, 1000);
    Estimate standard = within("rho_R", 8000, 50);
    MonteCarlo.Model model =
        x -> OptionalDouble.of((x[0] + x[1]) * (1 + (x[2] - 1.2) * (1 / x[3] - 1 / x[4])) - 100000);
    Finding found =
        MonteCarlo.run(List.of(reference, added, air, weight, standard), model, PLAN).orElseThrow();
    JsonNode exact = Reference.json("conformity/jcgm101_9_3_mass.json").get("computed_monte_carlo");
    DIGITS.agree("9.3 u", exact.get("u").asDouble(), found.standardUncertainty(), 5e-3);
    assertEquals(exact.get("symmetric95").get(0).asDouble(), found.lower(), 2e-3);
    assertEquals(exact.get("symmetric95").get(1).asDouble(), found.upper(), 2e-3);
    ComputationOutcome.Uncertainty first =
        Budget.of(reference.plus(added).plus(-100000)).uncertainty(0.95);
    assertEquals(1.1285, first.lower(), 1e-4);
    assertFalse(MonteCarlo.compare(first, found).agrees());
  }

  @Test
  void comparisonLossOf94NearZero() {
    for (JsonNode row :
        notEmpty(Reference.json("conformity/jcgm101_9_4_comparison_loss.json").get("rows"))) {
      double u = row.get("u").asDouble();
      List<Estimate> inputs =
          List.of(normal("x1", row.get("x1").asDouble(), u), normal("x2", 0, u));
      Finding found =
          MonteCarlo.run(inputs, x -> OptionalDouble.of(x[0] * x[0] + x[1] * x[1]), PLAN)
              .orElseThrow();
      assertEquals(row.get("mean").asDouble(), found.mean(), 4e-6);
      assertEquals(row.get("sd").asDouble(), found.standardUncertainty(), 4e-6);
      assertEquals(row.get("shortest95").get(1).asDouble(), found.shortestUpper(), 1e-5);
    }
  }

  @Test
  void aSizeThatRestsOnFewReadingsIsDrawnFromStudentsT() {
    ErrorSource few =
        new ErrorSource(
            "noise",
            ErrorSource.POINT,
            "p",
            millrace.evidence.ErrorDistribution.NORMAL,
            OptionalDouble.of(4),
            1,
            "1");
    Estimate e = Estimate.exact(0).with(few, 1);
    Finding found = sum(List.of(e));
    // t(0.975, 4) = 2.776 (JCGM 100:2008, table G.2)
    assertEquals(2.776, found.upper(), 0.03);
    assertEquals(Budget.of(e).uncertainty(0.95).upper(), found.upper(), 0.03);
  }

  @Test
  void theSameSeedGivesTheSameBits() {
    List<Estimate> inputs = List.of(rectangular("a", 1), normal("b", 0, 1));
    assertEquals(sum(inputs), sum(inputs));
  }

  @Test
  void theSameSeedGivesTheSameBitsOnOneProcessorAsOnSeveral()
      throws InterruptedException, ExecutionException {
    List<Estimate> inputs = List.of(rectangular("a", 1), normal("b", 0, 1));
    Finding one = on(1, inputs);
    assertEquals(one, on(3, inputs));
    assertEquals(one, sum(inputs));
  }

  private static Finding on(int processors, List<Estimate> inputs)
      throws InterruptedException, ExecutionException {
    ForkJoinPool pool = new ForkJoinPool(processors);
    try {
      return pool.submit(() -> sum(inputs)).get();
    } finally {
      pool.shutdown();
    }
  }

  @Test
  void trialsWithoutAResultAreCounted() {
    Finding found =
        MonteCarlo.run(
                List.of(normal("x", 0, 1)),
                x -> x[0] > 0 ? OptionalDouble.of(x[0]) : OptionalDouble.empty(),
                PLAN)
            .orElseThrow();
    assertEquals(0.5, (double) found.failed() / (found.failed() + found.trials()), 0.01);
  }

  private static Estimate normal(String name, double value, double u) {
    return Estimate.exact(value).with(ErrorSource.normal(name, ErrorSource.RUN, name, u, "1"), 1);
  }

  private static Estimate within(String name, double value, double a) {
    return Estimate.exact(value).with(ErrorSource.within(name, ErrorSource.RUN, name, a, "1"), 1);
  }
}
