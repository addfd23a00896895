// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import org.junit.jupiter.api.Test;

/** What a real night gives, and what cannot be analysed. */
class TemperatureResultsTest {
  private static List<Result> results(TemperatureStudy study) {
    return TemperatureResults.of(study, "1mA", 0.9545, List.of());
  }

  /** A trial carries no errors by name; a value may not depend on that (methods.md 2.5). */
  @Test
  void aTrialThatMovesNothingGivesTheValuesOfTheReadings() {
    Night night = new Night(9, 0.05).slope(0.6).curve(-0.03).stay(23).stay(0).stay(10).stay(40);
    List<TemperaturePoint> points = night.stay(23).points();
    List<TemperaturePoint> drawn =
        points.stream()
            .map(
                p ->
                    new TemperaturePoint(
                        p.stay(),
                        p.setpointDegC(),
                        drawn(p.temperatureDegC()),
                        drawn(p.currentA()),
                        p.timeS()))
            .toList();
    List<Result> expected =
        TemperatureResults.of(TemperatureStudy.of(points, 23), "1mA", 0.9545, List.of());
    List<Result> found =
        TemperatureResults.of(TemperatureStudy.of(drawn, 23), "1mA", 0.9545, List.of());
    int values = 0;
    for (int i = 0; i < expected.size(); i++) {
      if (expected.get(i).outcome() instanceof ComputationOutcome.Value value) {
        assertEquals(value.value(), value(found.get(i)).value(), 1e-6 * Math.abs(value.value()));
        values++;
      }
    }
    assertTrue(values > 4, "only " + values + " of " + expected.size());
  }

  private static Estimate drawn(Estimate e) {
    return Estimate.drawn(e.value(), e.pointUncertainty(), 0);
  }

  private static List<Result> results(Night night) {
    return results(night.study());
  }

  private static Result find(List<Result> all, ResultQuantity quantity) {
    return all.stream().filter(r -> r.quantity() == quantity).findFirst().orElseThrow();
  }

  private static Result find(List<Result> all, ResultQuantity quantity, ResultConditions at) {
    return all.stream()
        .filter(r -> r.quantity() == quantity && r.at().equals(at))
        .findFirst()
        .orElseThrow();
  }

  private static ResultConditions excursion(String word) {
    return ResultConditions.NONE.with(ResultConditionKey.EXCURSION, word);
  }

  private static ComputationOutcome.Value value(Result result) {
    return assertInstanceOf(ComputationOutcome.Value.class, result.outcome());
  }

  private static String missing(Result result) {
    return assertInstanceOf(ComputationOutcome.Missing.class, result.outcome()).reason();
  }

  private static void holds(double truth, Result result) {
    ComputationOutcome.Uncertainty u = value(result).uncertainty().orElseThrow();
    assertTrue(
        truth >= u.lower() && truth <= u.upper(),
        () -> "%s not in [%s, %s]".formatted(truth, u.lower(), u.upper()));
  }

  private static boolean notes(Result result, String part) {
    return result.notes().stream().anyMatch(n -> n.contains(part));
  }

  @Test
  void aGainThatAllStaysShareDoesNotEnterTheSlope() {
    List<Result> all = results(new Night(1, 0.5).stay(23).stay(5).stay(41).stay(23));
    double u = value(find(all, ResultQuantity.TEMPCO)).uncertainty().orElseThrow().standard();
    assertEquals(0.5 / Math.hypot(18, 18), u, 0.003);
    holds(2, find(all, ResultQuantity.TEMPCO));
  }

  @Test
  void aDriftIsToldFromTemperatureWhereTheReferenceIsRevisited() {
    Night night = new Night(2, 0.05).drift(3).stay(23).stay(35).stay(50).stay(35).stay(23);
    TemperatureStudy study = night.stay(5).stay(23).study();
    Result slope = find(results(study), ResultQuantity.TEMPCO);
    holds(2, slope);
    assertTrue(notes(slope, "a drift over time was fitted beside"));
    double perHour = study.slope().orElseThrow().driftPpmPerS().orElseThrow().value() * 3600;
    assertEquals(3, perHour, 0.1);
  }

  @Test
  void threeStaysOfWhichTheOuterAreAtTheReferenceTakeADriftOff() {
    Result slope =
        find(
            results(new Night(3, 0.01).drift(40).stay(23).stay(43).stay(23)),
            ResultQuantity.TEMPCO);
    assertEquals(2, value(slope).value(), 0.01);
  }

  @Test
  void withoutTimesADriftIsNotFittedAndTheResultSaysSo() {
    List<TemperaturePoint> timeless =
        new Night(4, 0.1)
            .stay(23).stay(43).stay(23).points().stream()
                .map(
                    p ->
                        new TemperaturePoint(
                            p.stay(), p.setpointDegC(), p.temperatureDegC(), p.currentA(), 0))
                .toList();
    Result slope = find(results(TemperatureStudy.of(timeless, 23)), ResultQuantity.TEMPCO);
    assertTrue(notes(slope, "no times tell a drift from temperature"));
  }

  @Test
  void oneWildStayShowsInTheRobustSlopeAndIsNamed() {
    Night night = new Night(5, 0.1).slope(1);
    for (double t = -10; t <= 60; t += 7) {
      night.stay(t, t == 60 ? 80 : 0, 1);
    }
    Result slope = find(results(night), ResultQuantity.TEMPCO);
    assertTrue(
        notes(slope, "robust slope 1 ")
            || notes(slope, "robust slope 0.99")
            || notes(slope, "robust slope 1.00"),
        slope.notes()::toString);
    assertTrue(notes(slope, "look at stay 10 at 60.0 degC"), slope.notes()::toString);
    assertTrue(value(slope).value() > 1.3);
  }

  @Test
  void unequalSpacingAndCurvatureGiveTheTurnoverInsideTheSpan() {
    Night night = new Night(6, 0.05).slope(0.6).curve(-0.03);
    for (double t : new double[] {23, -5, 2, 8, 31, 33, 34, 52, 23}) {
      night.stay(t);
    }
    List<Result> all = results(night);
    holds(0.6, find(all, ResultQuantity.TEMPCO_QUADRATIC_A));
    holds(-0.03, find(all, ResultQuantity.TEMPCO_QUADRATIC_B));
    holds(33, find(all, ResultQuantity.TURNOVER));
    Result slope = find(all, ResultQuantity.TEMPCO);
    assertTrue(notes(slope, "the curve is bent: its tangent at T_ref is"), slope.notes()::toString);
    assertFalse(notes(slope, "look for what else changed"), slope.notes()::toString);
  }

  @Test
  void aTurnoverBesideTheSpanOrWithoutCurvatureIsMissing() {
    Night beside = new Night(7, 0.05).slope(3).curve(-0.03).stay(23).stay(0).stay(10).stay(40);
    assertEquals(
        "the turnover is not inside the span of temperatures",
        missing(find(results(beside.stay(23)), ResultQuantity.TURNOVER)));
    Night straight = new Night(8, 0.5).stay(23).stay(0).stay(10).stay(40).stay(23);
    assertEquals(
        "no significant curvature", missing(find(results(straight), ResultQuantity.TURNOVER)));
  }

  @Test
  void theIntervalOfATurnoverLeansAwayFromTheCentre() {
    Night night = new Night(9, 1).slope(0.5).curve(-0.02);
    for (double t : new double[] {23, -10, 0, 10, 35, 45, 23}) {
      night.stay(t);
    }
    ComputationOutcome.Value turnover = value(find(results(night), ResultQuantity.TURNOVER));
    ComputationOutcome.Uncertainty u = turnover.uncertainty().orElseThrow();
    assertTrue(u.upper() - turnover.value() > turnover.value() - u.lower());
    assertTrue(u.lower() < turnover.value());
  }

  @Test
  void hysteresisOfAColdAndAHotExcursionIsToldFromDriftByThreeVisits() {
    Night night = new Night(10, 0.02).drift(1).stay(23).stay(5).stay(23, -6, 1).stay(50).stay(23);
    List<Result> all = results(night);
    Result cold = find(all, ResultQuantity.THERMAL_HYSTERESIS, excursion("cold"));
    Result hot = find(all, ResultQuantity.THERMAL_HYSTERESIS, excursion("hot"));
    Result full = find(all, ResultQuantity.THERMAL_HYSTERESIS, excursion("full"));
    assertEquals(-6, value(cold).value(), 0.1);
    assertEquals(6, value(hot).value(), 0.1);
    assertEquals(4, value(full).value(), 0.1);
    assertTrue(notes(cold, "estimated from three visits"));
    assertTrue(notes(full, "hysteresis and drift together"));
  }

  @Test
  void twoVisitsGiveHysteresisAndDriftTogether() {
    List<Result> all = results(new Night(11, 0.02).stay(23).stay(50).stay(23, 4, 1));
    Result hot = find(all, ResultQuantity.THERMAL_HYSTERESIS, excursion("hot"));
    assertEquals(4, value(hot).value(), 0.1);
    assertTrue(notes(hot, "hysteresis and drift together"));
    assertTrue(notes(hot, "two visits with no excursion between"));
  }

  @Test
  void twoVisitsWithNothingBetweenTellTheDrift() {
    Night night = new Night(12, 0.02).drift(2).stay(23, 0, 3).stay(23).stay(50).stay(23, 5, 1);
    Result hot = find(results(night), ResultQuantity.THERMAL_HYSTERESIS, excursion("hot"));
    assertEquals(5, value(hot).value(), 0.2);
    assertTrue(notes(hot, "no excursion between"));
  }

  @Test
  void aSecondLikeExcursionCountsAsLeavingNothingNew() {
    Night night = new Night(13, 0.02).drift(1).stay(23).stay(50).stay(23, 7, 1);
    Result hot =
        find(
            results(night.stay(50, 7, 1).stay(23, 7, 1)),
            ResultQuantity.THERMAL_HYSTERESIS,
            excursion("hot"));
    assertEquals(7, value(hot).value(), 0.2);
  }

  @Test
  void hysteresisSaysWhatIsMissing() {
    assertEquals(
        "T_ref visited once: hysteresis not measured",
        missing(hysteresis(new Night(14, 0.1).stay(23).stay(50))));
    assertEquals(
        "T_ref not visited: hysteresis not measured",
        missing(hysteresis(new Night(15, 0.1).stay(30).stay(50))));
    assertEquals(
        "no other temperature between the visits to T_ref",
        missing(hysteresis(new Night(16, 0.1).stay(23).stay(23).stay(50))));
  }

  private static Result hysteresis(Night night) {
    return find(results(night), ResultQuantity.THERMAL_HYSTERESIS, excursion("full"));
  }

  @Test
  void visitsThatAreNotQuiteAtOneTemperatureWidenTheHysteresis() {
    List<Result> exact = results(new Night(17, 0.02).slope(20).stay(23).stay(50).stay(23));
    List<Result> apart = results(new Night(17, 0.02).slope(20).stay(23).stay(50).stay(23.4));
    ResultConditions hot = excursion("hot");
    double u = u(find(exact, ResultQuantity.THERMAL_HYSTERESIS, hot));
    double wider = u(find(apart, ResultQuantity.THERMAL_HYSTERESIS, hot));
    assertEquals(0.4 * 20 / Math.sqrt(3), Math.sqrt(wider * wider - u * u), 0.1);
  }

  private static double u(Result result) {
    return value(result).uncertainty().orElseThrow().standard();
  }

  @Test
  void aReferenceThatWasNotVisitedIsFittedAndSaidSo() {
    List<Result> all = results(new Night(18, 0.05).stay(10).stay(30).stay(40));
    Result slope = find(all, ResultQuantity.TEMPCO);
    holds(2, slope);
    assertTrue(notes(slope, "T_ref was not visited: I_ref is the fitted value"));
    holds(2, find(all, ResultQuantity.TEMPCO_HOT));
  }

  @Test
  void endPointsOnOneSideOnlySayWhichIsMissing() {
    List<Result> all = results(new Night(19, 0.05).stay(23).stay(50));
    holds(2, find(all, ResultQuantity.TEMPCO_HOT));
    assertEquals(
        "no temperature lies 5 K or more below T_ref",
        missing(find(all, ResultQuantity.TEMPCO_COLD)));
  }

  @Test
  void oneTemperatureIsMissingWithWhatItNeeds() {
    List<Result> all = results(new Night(20, 0.05).stay(23).stay(23.3));
    assertEquals(
        "1 temperature, needs at least 2 that differ by 5 K or more",
        missing(find(all, ResultQuantity.TEMPCO)));
    assertEquals(
        "1 temperature, needs at least 2 that differ by 5 K or more",
        missing(find(all, ResultQuantity.TEMPCO_QUADRATIC_A)));
  }

  @Test
  void theBoxIsABoundWhereNoiseExplainsTheRange() {
    Result box =
        find(
            results(new Night(21, 5).slope(0).stay(23).stay(5).stay(50)),
            ResultQuantity.TEMPCO_BOX);
    ComputationOutcome.Bound bound =
        assertInstanceOf(ComputationOutcome.Bound.class, box.outcome());
    assertEquals(ComputationOutcome.Side.BELOW, bound.side());
    assertTrue(bound.value() > 0 && bound.value() < 2 * 3.31 * 5 / 45 * 1.01);
  }

  @Test
  void constantDataGiveZeroAndNoTurnover() {
    List<Result> all = results(flat(NOMINAL));
    assertEquals(0, value(find(all, ResultQuantity.TEMPCO)).value());
    assertEquals(0, value(find(all, ResultQuantity.TEMPCO_BOX)).value());
    assertEquals("no significant curvature", missing(find(all, ResultQuantity.TURNOVER)));
  }

  private static final double NOMINAL = Night.NOMINAL_A;

  private static TemperatureStudy flat(double currentA) {
    List<TemperaturePoint> points = new ArrayList<>();
    for (double t : new double[] {23, 5, 15, 35, 50}) {
      points.add(
          new TemperaturePoint(
              points.size(), t, Estimate.exact(t), Estimate.exact(currentA), points.size()));
    }
    return TemperatureStudy.of(points, 23);
  }

  @Test
  void aCurrentOfZeroHasNothingToBeRelativeTo() {
    List<Result> all = results(flat(0));
    notEmpty(all).forEach(r -> assertInstanceOf(ComputationOutcome.Missing.class, r.outcome()));
    assertEquals(
        "the current at T_ref is zero: nothing to be relative to",
        missing(find(all, ResultQuantity.TEMPCO)));
  }

  @Test
  void resultsDoNotDependOnTheOrderThatStaysAreGivenIn() {
    Night night = new Night(22, 0.3).drift(1).stay(23).stay(5).stay(23).stay(50).stay(23);
    List<TemperaturePoint> shuffled = new ArrayList<>(night.points());
    Collections.reverse(shuffled);
    assertEquals(results(night), results(TemperatureStudy.of(shuffled, 23)));
  }

  @Test
  void duplicateStaysChangeNothingButTheCount() {
    Night night = new Night(23, 0.2).stay(23).stay(5).stay(50).stay(23);
    List<TemperaturePoint> twice = new ArrayList<>(night.points());
    twice.addAll(night.points());
    double once = value(find(results(night), ResultQuantity.TEMPCO)).value();
    Result doubled = find(results(TemperatureStudy.of(twice, 23)), ResultQuantity.TEMPCO);
    assertEquals(once, value(doubled).value(), 1e-9);
    assertEquals(8, doubled.outcome().n());
  }

  @Test
  void theQuadraticHoldsTheTruthWithinItsBandAtTheEndOfTheSpan() {
    Night night = new Night(24, 0.1).curve(0.01).stay(23).stay(5).stay(14).stay(35).stay(50);
    Estimate end = night.stay(23).study().quadratic().orElseThrow().at(27);
    assertEquals(2 * 27 + 0.01 * 27 * 27, end.value(), 3 * end.standardUncertainty());
    assertTrue(end.standardUncertainty() > 0 && end.standardUncertainty() < 0.5);
  }

  @Test
  void anUncertaintyIsOnlyGivenWhereOneIsKnown() {
    List<TemperaturePoint> two = new ArrayList<>();
    for (double t : new double[] {23, 43}) {
      double current = NOMINAL * (1 + 2e-6 * (t - 23));
      two.add(
          new TemperaturePoint(
              two.size(), t, Estimate.exact(t), Estimate.exact(current), two.size()));
    }
    Result slope = find(results(TemperatureStudy.of(two, 23)), ResultQuantity.TEMPCO);
    assertEquals(Optional.empty(), value(slope).uncertainty());
    assertEquals(2, value(slope).value(), 1e-6);
    assertFalse(slope.notes().isEmpty());
  }

  @Test
  void oneStayWithoutAKnownErrorIsSaidAndTheQuadraticTakesTheScatterForAll() {
    Night night = new Night(25, 0.5).stay(23).stay(5).stay(14).stay(35).stay(50).stay(41);
    List<TemperaturePoint> points = new ArrayList<>(night.points());
    TemperaturePoint bare = points.remove(3);
    points.add(
        new TemperaturePoint(
            3,
            bare.setpointDegC(),
            bare.temperatureDegC(),
            Estimate.exact(bare.currentA().value()),
            bare.timeS()));
    List<Result> all = results(TemperatureStudy.of(points, 23));
    assertTrue(
        notes(find(all, ResultQuantity.TEMPCO_COLD), "1 of 6 stays have no known uncertainty"));
    assertTrue(notes(find(all, ResultQuantity.TEMPCO), "1 of 6 stays have no known uncertainty"));
    Result curved = find(all, ResultQuantity.TEMPCO_QUADRATIC_A);
    assertTrue(
        curved.budget().stream().anyMatch(c -> c.component().equals("scatter about the fit")));
    assertTrue(u(curved) > 0.3 * u(find(results(night), ResultQuantity.TEMPCO_QUADRATIC_A)));
  }
}
