// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import millrace.analysis.reduction.MeterErrors.Lab;
import millrace.analysis.reduction.MeterErrors.MeterRange;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.calibration.AccuracyStatement;
import millrace.calibration.CertificateCorrectionLine;
import millrace.calibration.Shunt;
import millrace.quantity.ClosedInterval;
import org.junit.jupiter.api.Test;

class CurrentFromReadingsTest {
  private static final MeterRange RANGE = new MeterRange("dmm1", 10e-3, "A");

  private static Estimate of(String name, double value, double u) {
    return Estimate.exact(value).with(ErrorSource.normal(name, ErrorSource.RUN, name, u, "1"), 1);
  }

  @Test
  void theCorrectionIsAddedToWhatIsLeftAfterTheZero() {
    CertificateCorrectionTable table =
        CertificateCorrectionTable.of(
            "dmm1",
            "A",
            List.of(
                new CertificateCorrectionLine(0, 0, 1e-9),
                new CertificateCorrectionLine(10e-3, 2e-6, 4e-9)));
    Estimate i =
        CurrentFromReadings.throughAmmeterA(of("x", 5.001e-3, 0), of("zero", 1e-6, 0), table)
            .orElseThrow();
    assertEquals(5e-3 + 1e-6, i.value(), 1e-15);
    assertEquals(Math.hypot(0.5e-9, 2e-9), i.standardUncertainty(), 1e-15);
  }

  @Test
  void fivePercentBeyondTheTableTheCorrectionIsHeldWithTwiceItsUncertainty() {
    CertificateCorrectionTable table =
        CertificateCorrectionTable.of(
            "dmm1", "A", List.of(new CertificateCorrectionLine(10e-3, 2e-6, 4e-9)));
    Estimate held = table.corrected(Estimate.exact(10.4e-3)).orElseThrow();
    assertEquals(10.402e-3, held.value(), 1e-15);
    assertEquals(8e-9, held.standardUncertainty(), 1e-15);
    assertTrue(table.corrected(Estimate.exact(10.6e-3)).isEmpty());
  }

  @Test
  void aShuntCountsAtItsOwnTemperatureAndPower() {
    Shunt shunt = new Shunt(100, 1e-5, 5e-6, 1e-7, 2e-5, 23, 0.01);
    Estimate v = of("V", 1, 1e-6);
    Estimate t = of("T", 33, 0.5);
    double ohm = 100 * (1 + 5e-5 + 1e-5 + 2e-5 * (0.01 - 0.01));
    Estimate i = CurrentFromReadings.throughShuntA(v, shunt, t, Optional.of(Estimate.exact(10e6)));
    assertEquals(1 / ohm + 1e-7, i.value(), 1e-15);
    double relative =
        Math.sqrt(Math.pow(1e-6, 2) + Math.pow(1e-5, 2) + Math.pow((5e-6 + 2e-6) * 0.5, 2));
    assertEquals(relative / ohm, i.standardUncertainty(), 1e-11);
  }

  @Test
  void anUpstreamVoltmeterTakesAMicroampereAtTenVolts() {
    Estimate i =
        CurrentFromReadings.withVoltmeterUpstreamA(
            Estimate.exact(1e-3), Estimate.exact(10), of("R_in", 10e6, 1e5));
    assertEquals(1.001e-3, i.value(), 1e-15);
    assertEquals(10e-9, i.standardUncertainty(), 1e-15);
  }

  @Test
  void burdenAndLeadsBelongToTheTerminals() {
    Estimate v =
        CurrentFromReadings.terminalVoltageV(
            Estimate.exact(4), Estimate.exact(1e-3), of("burden", 100, 2));
    assertEquals(4.1, v.value(), 1e-15);
    assertEquals(2e-3, v.standardUncertainty(), 1e-15);
  }

  @Test
  void reversalTakesTheOffsetOut() {
    Estimate emf = of("emf", 3e-6, 1e-6);
    Estimate plus = Estimate.exact(1).plus(emf);
    Estimate minus = Estimate.exact(-1).plus(emf);
    assertEquals(1, CurrentFromReadings.reversed(plus, minus).value(), 1e-15);
    assertEquals(0, CurrentFromReadings.reversed(plus, minus).standardUncertainty(), 1e-15);
    assertEquals(3e-6, CurrentFromReadings.reversalOffset(plus, minus).value(), 1e-15);
  }

  @Test
  void gainAndOffsetOfTheMeterCancelBetweenPointsOfOneRange() {
    MeterErrors statement =
        stated(100e-6, 20e-6, Optional.empty(), Optional.of(2e-6), 0, Optional.empty());
    Estimate a = statement.applied(Estimate.exact(5e-3), RANGE, "p1", Optional.empty());
    Estimate b = statement.applied(Estimate.exact(5.001e-3), RANGE, "p2", Optional.empty());
    double absolute = Math.sqrt(Math.pow(500e-9, 2) + Math.pow(200e-9, 2) + Math.pow(20e-9, 2));
    assertEquals(absolute / Math.sqrt(3), a.standardUncertainty(), 1e-14);
    double left = Math.hypot(20e-9 * Math.sqrt(2), 0.1e-9) / Math.sqrt(3);
    assertEquals(left, b.minus(a).standardUncertainty(), 1e-14);
  }

  @Test
  void withoutATransferStatementTheRangePartCountsForEachPointAlone() {
    MeterErrors statement =
        stated(0, 20e-6, Optional.of(2.0), Optional.empty(), 0, Optional.empty());
    Estimate a = statement.applied(Estimate.exact(5e-3), RANGE, "p1", Optional.empty());
    Estimate b = statement.applied(Estimate.exact(5e-3), RANGE, "p2", Optional.empty());
    assertEquals(100e-9 * Math.sqrt(2), b.minus(a).standardUncertainty(), 1e-14);
    assertEquals(100e-9, a.pointUncertainty(), 1e-14);
  }

  @Test
  void theMetersTempcoCountsForTheChangeOfTheLabAndOutsideTheBand() {
    MeterErrors statement =
        stated(
            0,
            0,
            Optional.of(1.0),
            Optional.empty(),
            2e-6,
            Optional.of(new ClosedInterval(18, 28)));
    Estimate cool = statement.applied(Estimate.exact(1), RANGE, "p1", lab(22, 23));
    Estimate warm = statement.applied(Estimate.exact(1), RANGE, "p2", lab(24, 23));
    assertEquals(4e-6, warm.minus(cool).standardUncertainty(), 1e-12);
    Estimate hot = statement.applied(Estimate.exact(1), RANGE, "p3", lab(31, 31));
    assertEquals(6e-6, hot.standardUncertainty(), 1e-12);
    assertEquals(ErrorSource.INSTRUMENT_AND_RANGE, Budget.of(hot).components().get(0).group());
  }

  private static MeterErrors stated(
      double ofReading,
      double ofFullScale,
      Optional<Double> k,
      Optional<Double> transfer,
      double tempcoPerK,
      Optional<ClosedInterval> bandDegC) {
    Optional<Double> none = Optional.empty();
    return new MeterErrors(
        new AccuracyStatement(
            none,
            ofReading,
            ofFullScale,
            0,
            k,
            transfer,
            none,
            tempcoPerK,
            bandDegC,
            0,
            0,
            none,
            0));
  }

  private static Optional<Lab> lab(double now, double usual) {
    return Optional.of(new Lab(now, usual));
  }
}
