// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.reduction;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.Estimate;
import millrace.bench.BenchFile.Reproducibility;
import millrace.bench.BenchFile.Wiring;
import millrace.evidence.BudgetComponent;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.evidence.PointNumber;
import millrace.evidence.PointState;
import millrace.evidence.setting.PointSettings;
import org.junit.jupiter.api.Test;

/** Common practice, no source: what shares an error cancels it in a ratio and adds it in a sum. */
class LoopErrorsTest {
  private static final double R = 2e12;

  private static LoopErrors loop(Optional<Double> insulationOhm, Reproducibility... stated) {
    return loop(Optional.empty(), insulationOhm, stated);
  }

  private static LoopErrors loop(
      Optional<Double> offA, Optional<Double> insulationOhm, Reproducibility... stated) {
    return loop(true, offA, insulationOhm, stated);
  }

  private static LoopErrors loop(
      boolean guarded,
      Optional<Double> offA,
      Optional<Double> insulationOhm,
      Reproducibility... stated) {
    return new LoopErrors(
        new Wiring(
            Optional.empty(),
            0,
            guarded,
            0,
            insulationOhm,
            Optional.empty(),
            Optional.empty(),
            List.of(stated),
            offA));
  }

  private static Point point(double nominalA) {
    return new Point(
        1,
        PointNumber.of(1),
        "p",
        PointKind.MEASURE,
        PointConditions.NONE.inRange("r", nominalA),
        PointState.COMPLETE,
        "",
        Duration.ZERO,
        Duration.ZERO,
        PointSettings.NONE);
  }

  private static Estimate at(LoopErrors loop, double amperes, double volts, int stay) {
    return loop.added(Estimate.exact(amperes), volts, stay, point(amperes));
  }

  @Test
  void leakageLooksLikeAConductanceWithinAStay() {
    LoopErrors loop = loop(Optional.of(R));
    Estimate slope = at(loop, 1e-6, 8, 0).minus(at(loop, 1e-6, 2, 0)).times(1.0 / 6);
    assertEquals(1 / R / Math.sqrt(3), slope.standardUncertainty(), 1e-20);
  }

  @Test
  void whatFlowsWithTheSourceOffIsAnOffsetOfAStay() {
    LoopErrors loop = loop(Optional.of(3e-12), Optional.empty());
    Estimate here = loop.zeroed(Estimate.exact(1e-6), 0, point(1e-6));
    Estimate there = loop.zeroed(Estimate.exact(1e-6), 1, point(1e-6));
    assertEquals(3e-12 / Math.sqrt(3), here.standardUncertainty(), 1e-20);
    Estimate again = loop.zeroed(Estimate.exact(2e-6), 0, point(1e-6));
    assertEquals(0, here.minus(again).standardUncertainty(), 1e-20);
    assertEquals(3e-12 * Math.sqrt(2 / 3.0), here.minus(there).standardUncertainty(), 1e-20);
    assertTrue(loop.notes().toString().contains("more than a tenth of the uncertainty"));
  }

  @Test
  void aZeroWithTheSourceStillConnectedIsRemarkedOn() {
    LoopErrors loop = loop(Optional.empty());
    loop.zeroed(Estimate.exact(1e-6), 0, point(1e-6));
    assertTrue(loop.notes().iterator().next().startsWith("zeros were taken with the source off"));
  }

  @Test
  void leakageAtOneTemperatureSaysNothingOfAnother() {
    LoopErrors loop = loop(Optional.of(R));
    Estimate moved = at(loop, 1e-6, 8, 1).minus(at(loop, 1e-6, 8, 0));
    assertEquals(Math.sqrt(2 / 3.0) * 8 / R, moved.standardUncertainty(), 1e-18);
    assertEquals("insulation leakage", Budget.of(moved).components().get(0).component());
    assertEquals("temperature step", Budget.of(moved).components().get(0).group());
    assertTrue(loop.notes().toString().contains("more than a third of the uncertainty"));
  }

  @Test
  void aSmallCurrentWithoutStatedInsulationIsRemarkedOn() {
    LoopErrors loop = loop(Optional.empty());
    at(loop, 1e-3, 8, 0);
    assertTrue(loop.notes().isEmpty());
    at(loop, 1e-7, 8, 0);
    assertTrue(loop.notes().iterator().next().contains("states no insulation resistance"));
  }

  @Test
  void oneConnectionCountsInAbsoluteResultsAndCancelsInRelativeOnes() {
    LoopErrors loop = loop(Optional.empty(), new Reproducibility(Optional.empty(), 0.5e-6, 10));
    Estimate cold = at(loop, 1e-3, 1, 0);
    BudgetComponent row = Budget.of(cold).components().get(0);
    assertEquals("set-up reproducibility", row.component());
    assertEquals(0.5e-9, row.contribution(), 1e-18);
    assertEquals(9, row.degreesOfFreedom().orElseThrow());
    assertEquals(0, at(loop, 1.0001e-3, 1, 1).over(cold).standardUncertainty(), 1e-18);
  }

  @Test
  void theRangesOwnScatterCountsBeforeThatOfAll() {
    LoopErrors loop =
        loop(
            Optional.empty(),
            new Reproducibility(Optional.empty(), 0.5e-6, 10),
            new Reproducibility(Optional.of(1e-6), 3e-6, 20));
    assertEquals(3e-12, at(loop, 1e-6, 1, 0).standardUncertainty(), 1e-20);
    assertEquals(0.5e-9, at(loop, 1e-3, 1, 0).standardUncertainty(), 1e-18);
  }

  @Test
  void aLeadWithoutAGuardIsNamedAtCurrentsOfAMicroampereAndLess() {
    LoopErrors open = loop(false, Optional.empty(), Optional.of(R));
    at(open, 1e-3, 0, 0);
    assertEquals(Set.of(), open.notes());

    at(open, 1e-7, 0, 0);

    assertEquals(
        Set.of(
            "range r: the bench file says of no guard ('wiring: {guarded: yes}'), and at so small a"
                + " current what leaks along an open lead counts"),
        open.notes());
  }

  @Test
  void whoHasAGuardIsNotToldToGuard() {
    LoopErrors guarded = loop(true, Optional.empty(), Optional.of(1e9));
    LoopErrors open = loop(false, Optional.empty(), Optional.of(1e9));
    at(guarded, 1e-3, 5, 0);
    at(open, 1e-3, 5, 0);

    assertTrue(guarded.notes().iterator().next().endsWith("so measure the leakage"));
    assertTrue(open.notes().iterator().next().endsWith("guard the lead, or measure the leakage"));
  }
}
