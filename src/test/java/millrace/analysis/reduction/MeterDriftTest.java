// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import millrace.analysis.reduction.MeterDrift.Look;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Drift of a meter by looks at a check standard; truth by construction. */
class MeterDriftTest {
  private static final double HOUR_S = 3600;
  private static final double STANDARD_A = 1e-3;

  private static Look look(double hours, double ratio, double u) {
    Estimate reading =
        Estimate.exact(STANDARD_A * (1 + ratio))
            .with(
                ErrorSource.normal(
                    "meter noise", ErrorSource.POINT, "at " + hours, u * STANDARD_A, "A"),
                1)
            .with(
                ErrorSource.normal(
                    "meter gain", ErrorSource.INSTRUMENT_AND_RANGE, "meter", 15e-6, "1"),
                STANDARD_A);
    return Look.of(hours * HOUR_S, reading, STANDARD_A);
  }

  private static MeterDrift straight(double perHour, double u) {
    List<Look> looks = new ArrayList<>();
    for (double hours : new double[] {0, 2, 3, 7, 8}) {
      looks.add(look(hours, 20e-6 + perHour * hours, u));
    }
    return MeterDrift.of("meter", looks);
  }

  @Test
  void aStraightDriftIsTakenOffWhole() {
    MeterDrift drift = straight(3e-6, 0);
    for (double hours : new double[] {0, 0.5, 2.9, 6.1, 8}) {
      Estimate read = Estimate.exact(5e-4 * (1 + 3e-6 * (hours - 4)));
      assertEquals(5e-4, drift.corrected(read, hours * HOUR_S).value(), 1e-13, "at " + hours);
      assertEquals(0, drift.at(hours * HOUR_S).standardUncertainty(), 1e-9);
    }
    assertEquals(3e-6, drift.perHour(HOUR_S, 5 * HOUR_S).value(), 1e-15);
    assertEquals(24e-6, drift.span(), 1e-12);
  }

  @Test
  void whatTheMeterDoesAsAWholeCancelsAndTheNoiseOfLooksStays() {
    Estimate at = straight(0, 0.5e-6).at(2 * HOUR_S);
    List<BudgetComponent> rows = Budget.of(at).components();
    // One look of five less the mean of all five: u sqrt(1 - 1/5).
    assertEquals(MeterDrift.READING, rows.get(0).component());
    assertEquals(0.5e-6 * Math.sqrt(0.8), rows.get(0).contribution(), 1e-11);
    assertTrue(
        rows.stream().filter(r -> r.component().equals("meter gain")).count() == 0
            || at.standardUncertainty(s -> s.component().equals("meter gain")) < 1e-12);
  }

  @Test
  void twoLooksAloneLeaveOpenWhatLiesBetween() {
    MeterDrift drift = MeterDrift.of("meter", List.of(look(0, 0, 0), look(4, 8e-6, 0)));
    Estimate middle = drift.at(2 * HOUR_S);
    assertEquals(0, middle.value(), 1e-15);
    // Anywhere between the two readings: a rectangle of half-width 4 ppm.
    assertEquals(4e-6 / Math.sqrt(3), middle.standardUncertainty(), 1e-12);
    assertEquals(0, drift.at(0).standardUncertainty(), 1e-12);
  }

  @Test
  void anotherRangeIsWidenedByWhatWasSeen() {
    Estimate wide = straight(3e-6, 0).widened(Estimate.exact(1e-4), 0, "meter on 200 uA");
    assertEquals(1e-4, wide.value());
    assertEquals(1e-4 * 12e-6, wide.standardUncertainty(), 1e-14);
  }

  @Test
  void oneLookTellsNoDrift() {
    List<Look> one = List.of(look(0, 0, 0));
    assertThrows(IllegalArgumentException.class, () -> MeterDrift.of("meter", one));
  }

  /** A gain that walks at random: the stated intervals of the interpolated drift hold the truth. */
  @ParameterizedTest
  @ValueSource(doubles = {0, 1e-6, 5e-6})
  void intervalsHoldAWalkingGain(double perRootHour) {
    SplittableRandom random = new Seeds(7).stream("walks " + perRootHour);
    int sets = 2000;
    int held = 0;
    for (int i = 0; i < sets; i++) {
      held += holds(random, perRootHour) ? 1 : 0;
    }
    double share = (double) held / sets;
    assertTrue(share > 0.93 && share < 0.99, "held " + share);
  }

  private static boolean holds(SplittableRandom random, double perRootHour) {
    int quarters = 4 * 14;
    double[] gain = new double[quarters + 1];
    for (int q = 1; q <= quarters; q++) {
      gain[q] = gain[q - 1] + perRootHour * 0.5 * random.nextGaussian();
    }
    List<Look> looks = new ArrayList<>();
    double mean = 0;
    for (int h = 0; h <= 14; h += 2) {
      looks.add(look(h, gain[4 * h] + 0.3e-6 * random.nextGaussian(), 0.3e-6));
      mean += gain[4 * h] / 8;
    }
    int asked = 1 + random.nextInt(quarters - 1);
    Estimate at = MeterDrift.of("meter", looks).at(asked * HOUR_S / 4);
    ComputationOutcome.Uncertainty u = Budget.of(at).uncertainty(0.9545);
    double truth = gain[asked] - mean;
    return u.lower() <= truth && truth <= u.upper();
  }
}
