// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.uncertainty;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Random;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ErrorDistribution;
import org.junit.jupiter.api.Test;

class EstimateTest {
  private static final ErrorSource GAIN =
      ErrorSource.normal(
          "meter gain", ErrorSource.INSTRUMENT_AND_RANGE, "dmm1/10mA", 20e-6, "ratio");

  private static ErrorSource noise(String point, double u, double nu) {
    return new ErrorSource(
        "meter noise",
        ErrorSource.POINT,
        point,
        ErrorDistribution.NORMAL,
        OptionalDouble.of(nu),
        u,
        "A",
        "1mA");
  }

  @Test
  void aSharedGainErrorCancelsInARatioAndNotInAValue() {
    Estimate a = Estimate.exact(1e-3).with(GAIN, 1e-3);
    Estimate b = Estimate.exact(1.002e-3).with(GAIN, 1.002e-3);
    assertEquals(20e-9, a.standardUncertainty(), 1e-15);
    assertEquals(0, b.over(a).standardUncertainty(), 1e-15);
    assertEquals(0.002e-3 * 20e-6, b.minus(a).standardUncertainty(), 1e-16);
  }

  @Test
  void errorsOfDifferentInstancesAreIndependent() {
    Estimate a = Estimate.exact(1).with(noise("p1", 3, 9), 1);
    Estimate b = Estimate.exact(1).with(noise("p2", 4, 9), 1);
    assertEquals(5, a.plus(b).standardUncertainty(), 1e-15);
    assertEquals(0, a.covariance(b));
    assertEquals(9, a.covariance(a));
  }

  @Test
  void productsAndQuotientsPropagateRelativeErrors() {
    Estimate a = Estimate.exact(4).with(noise("p1", 0.4, 9), 1);
    Estimate b = Estimate.exact(2).with(noise("p2", 0.1, 9), 1);
    assertEquals(8 * Math.hypot(0.1, 0.05), a.times(b).standardUncertainty(), 1e-14);
    assertEquals(2 * Math.hypot(0.1, 0.05), a.over(b).standardUncertainty(), 1e-14);
    assertEquals(0, a.over(a).standardUncertainty(), 1e-15);
  }

  @Test
  void degreesOfFreedomOfAPooledNoiseCountOnce() {
    List<Estimate> points = new ArrayList<>();
    for (int i = 0; i < 25; i++) {
      points.add(Estimate.exact(1).with(noise("p" + i, 5e-9, 94), 1));
    }
    Budget budget = Budget.of(Estimate.mean(points));
    assertEquals(94, budget.degreesOfFreedom().orElseThrow(), 1e-9);
    BudgetComponent row = budget.components().get(0);
    assertEquals("point", row.group());
    assertEquals(1e-9, row.contribution(), 1e-18);
    assertEquals(5e-9, row.value(), 1e-18);
  }

  @Test
  void degreesOfFreedomOfNoisesSizedApartAddByWelchAndSatterthwaite() {
    Estimate sum =
        Estimate.exact(0)
            .with(noise("p1", 1, 4).sizedBy(OptionalDouble.of(4), "p1"), 1)
            .with(noise("p2", 1, 4).sizedBy(OptionalDouble.of(4), "p2"), 1);
    assertEquals(8, Budget.of(sum).degreesOfFreedom().orElseThrow(), 1e-12);
  }

  @Test
  void theIntervalIsTheShortestOfARectangleThatDominates() {
    Estimate e =
        Estimate.exact(0)
            .with(ErrorSource.within("meter gain", ErrorSource.RUN, "dmm1", 100, "ppm"), 1)
            .with(ErrorSource.normal("noise", ErrorSource.POINT, "p", 1, "ppm"), 1);
    ComputationOutcome.Uncertainty u = Budget.of(e).uncertainty(0.9545);
    assertEquals(95.45, u.expanded(), 0.05);
    assertTrue(Budget.of(e).shapedByOneRectangle());
  }

  /** As of another range of the meter, which a check standard was read in: methods.md 2.4. */
  @Test
  void aSmallRectangleOfItsKindBesideItDoesNotChangeThatShape() {
    Estimate e =
        Estimate.exact(0)
            .with(ErrorSource.within("meter gain", "instrument and range", "20 mA", 100, "ppm"), 1)
            .with(
                ErrorSource.within("meter gain", "instrument and range", "2 mA", 100, "ppm"), 0.01);
    ComputationOutcome.Uncertainty u = Budget.of(e).uncertainty(0.9545);
    assertEquals(95.45, u.expanded(), 0.05);
    assertTrue(Budget.of(e).shapedByOneRectangle());
  }

  /** Two rectangles of one size make a triangle: 200 (1 - sqrt(1 - 0.9545)), JCGM 101:2008, 9.2. */
  @Test
  void twoRectanglesOfOneSizeComeNearTheirTriangle() {
    Estimate e =
        Estimate.exact(0)
            .with(ErrorSource.within("meter gain", "instrument and range", "20 mA", 100, "ppm"), 1)
            .with(ErrorSource.within("meter gain", "instrument and range", "2 mA", 100, "ppm"), 1);
    assertEquals(157.3, Budget.of(e).uncertainty(0.9545).expanded(), 0.03 * 157.3);
  }

  @Test
  void studentsFactorIsTakenAtTheWholePart() {
    Estimate e = Estimate.exact(0).with(noise("p1", 1, 9.9), 1);
    ComputationOutcome.Uncertainty u = Budget.of(e).uncertainty(0.9545);
    // t(0.97725, 9) = 2.3198 (JCGM 100:2008, table G.2: 2.32)
    assertEquals(2.3198, u.coverageFactor(), 1e-3);
    assertEquals(9.9, u.degreesOfFreedom().orElseThrow(), 1e-12);
  }

  @Test
  void sameBitsWhateverTheOrderOfErrors() {
    List<ErrorSource> sources = new ArrayList<>();
    for (int i = 0; i < 50; i++) {
      sources.add(noise("p" + i, 1e-9 * (i + 1) / 3, 7));
    }
    Estimate first = built(sources);
    Random random = new Random(7);
    for (int trial = 0; trial < 20; trial++) {
      Collections.shuffle(sources, random);
      Estimate again = built(sources);
      assertEquals(first.standardUncertainty(), again.standardUncertainty(), 0);
      assertEquals(first.contributions(), again.contributions());
      assertEquals(Budget.of(first).components(), Budget.of(again).components());
    }
  }

  private static Estimate built(List<ErrorSource> sources) {
    Estimate e = Estimate.exact(1);
    for (ErrorSource s : sources) {
      e = e.with(s, 0.7);
    }
    return e;
  }

  @Test
  void refusesWhatIsNoNumber() {
    assertThrows(IllegalArgumentException.class, () -> Estimate.exact(Double.NaN));
    assertThrows(IllegalArgumentException.class, () -> noise("p", -1, 3));
    assertThrows(IllegalArgumentException.class, () -> noise("p", 1, 0));
    assertThrows(IllegalArgumentException.class, () -> Estimate.exact(1).over(Estimate.exact(0)));
  }

  /** JCGM 100:2008, H.1: a row has its own u and c, that a certificate can be held against. */
  @Test
  void eachInstrumentAndRangeHasItsOwnRow() {
    String group = ErrorSource.INSTRUMENT_AND_RANGE;
    Estimate e =
        Estimate.exact(0)
            .with(ErrorSource.normal("meter gain", group, "meter 1mA", 3e-6, "1"), 1e-3)
            .with(ErrorSource.normal("meter gain", group, "meter 10mA", 5e-6, "1"), -2e-3);
    List<BudgetComponent> rows = Budget.of(e).components();
    assertEquals(
        List.of("meter gain, meter 10mA", "meter gain, meter 1mA"),
        rows.stream().map(BudgetComponent::component).toList());
    assertEquals(List.of(-2e-3, 1e-3), rows.stream().map(BudgetComponent::sensitivity).toList());
    assertEquals(List.of(5e-6, 3e-6), rows.stream().map(BudgetComponent::value).toList());
  }
}
