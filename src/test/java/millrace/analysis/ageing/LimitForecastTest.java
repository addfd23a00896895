// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.ageing;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.Limit;
import org.junit.jupiter.api.Test;

/** When a limit is left, by hand. */
class LimitForecastTest {
  private static final Estimate NOTHING = Estimate.exact(0);

  private static DriftLine line(double start, double perDay, double u) {
    double[] days = {0, 100, 200};
    List<Estimate> visits = new ArrayList<>();
    for (int i = 0; i < days.length; i++) {
      ErrorSource own = ErrorSource.normal("own", ErrorSource.POINT, "visit " + i, u, "ppm");
      visits.add(Estimate.exact(start + perDay * days[i]).with(own, 1));
    }
    return DriftLine.of(days, visits);
  }

  private static Limit limit(double lower, double upper) {
    return new Limit(OptionalDouble.of(lower), OptionalDouble.of(upper));
  }

  /** y = 10 + 0.1 t reaches 100 at t = 900; with 20 ppm more at the worst condition at t = 700. */
  @Test
  void theLineReachesItsLimitWhereTheArithmeticSays() {
    DriftLine line = line(10, 0.1, 1);
    LimitForecast plain = new LimitForecast(line, limit(-100, 100), NOTHING, NOTHING);
    assertEquals(900, plain.leaves(200).orElseThrow(), 1e-6);
    assertEquals(OptionalDouble.of(100), plain.ahead());
    assertEquals(0.5, plain.within(900), 1e-9);
    LimitForecast corner =
        new LimitForecast(line, limit(-100, 100), Estimate.exact(-20), Estimate.exact(20));
    assertEquals(700, corner.leaves(200).orElseThrow(), 1e-6);
    DriftLine falling = line(-10, -0.1, 1);
    LimitForecast down = new LimitForecast(falling, limit(-100, 100), NOTHING, NOTHING);
    assertEquals(OptionalDouble.of(-100), down.ahead());
    assertEquals(900, down.leaves(200).orElseThrow(), 1e-6);
  }

  /**
   * u^2(y(t)) = 1/3 + (t - 100)^2/20000 for three visits with u = 1; within(t) = Phi((100 - y)/u).
   * At t = 800: u = 4.983, (100 - 90)/u = 2.007, Phi = 0.97762 (table of the normal distribution).
   */
  @Test
  void theProbabilityIsThatOfTheNormalDistribution() {
    LimitForecast forecast =
        new LimitForecast(line(10, 0.1, 1), limit(-100, 100), NOTHING, NOTHING);
    assertEquals(0.97762, forecast.within(800), 5e-5);
    // What the worst condition adds has an uncertainty of its own: u = sqrt(24.83 + 25) = 7.06.
    Estimate unsure =
        NOTHING.with(ErrorSource.normal("leakage", ErrorSource.RUN, "run 3", 5, "ppm"), 1);
    LimitForecast wider = new LimitForecast(line(10, 0.1, 1), limit(-100, 100), unsure, unsure);
    assertEquals(0.92171, wider.within(800), 5e-5);
  }

  /** Day by day, and never beyond the last day that counts. */
  @Test
  void itIsSureUpToTheLastDayOnWhichItIsSure() {
    LimitForecast forecast =
        new LimitForecast(line(10, 0.1, 1), limit(-100, 100), NOTHING, NOTHING);
    int sure = forecast.sureFor(200, 2000).orElseThrow();
    assertTrue(forecast.within(200 + sure) >= 0.95);
    assertTrue(forecast.within(201 + sure) < 0.95);
    assertEquals(OptionalInt.of(100), forecast.sureFor(200, 300));
    LimitForecast over = new LimitForecast(line(101, 0.1, 1), limit(-100, 100), NOTHING, NOTHING);
    assertEquals(OptionalInt.empty(), over.sureFor(200, 300));
    assertEquals(200, over.leaves(200).orElseThrow(), 1e-9);
  }

  @Test
  void nothingIsLeftOnTheSideThatHasNoLimit() {
    Limit lower = new Limit(OptionalDouble.of(-100), OptionalDouble.empty());
    LimitForecast forecast = new LimitForecast(line(10, 0.1, 1), lower, NOTHING, NOTHING);
    assertTrue(forecast.leaves(200).isEmpty());
    assertTrue(forecast.within(5000) > 0.999);
  }

  @Test
  void twoVisitsMakeNoLine() {
    List<Estimate> two = List.of(Estimate.exact(1), Estimate.exact(2));
    assertThrows(IllegalArgumentException.class, () -> DriftLine.of(new double[] {0, 1}, two));
  }

  /** Visits that scatter by far more than their errors: the excess stays on every later day. */
  @Test
  void aUnitThatWandersStaysUnsure() {
    double[] days = {0, 100, 200, 300};
    double[] y = {0, 20, -20, 0};
    List<Estimate> visits = new ArrayList<>();
    for (int i = 0; i < days.length; i++) {
      ErrorSource own = ErrorSource.normal("own", ErrorSource.POINT, "visit " + i, 1, "ppm");
      visits.add(Estimate.exact(y[i]).with(own, 1));
    }
    DriftLine line = DriftLine.of(days, visits);
    // Slope -0.04 per day, residuals -6, 18, -18, 6: chi squared 720 on 2 degrees of freedom.
    assertEquals(-0.04, line.slopePerDay().value(), 1e-12);
    assertEquals(Math.sqrt(360), line.birge(), 1e-9);
    assertTrue(line.at(150).standardUncertainty() > Math.sqrt(359));
  }
}
