// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.series;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class DriftTest {
  private static final TimeSeriesRequest QUESTION =
      new TimeSeriesRequest(
          "1mA", Records.NOMINAL_A, "I_N", OptionalDouble.of(1), OptionalDouble.empty(), 0.9545);

  private static Result drift(TimeSeries series) {
    return Drift.of(series, QUESTION, Estimate.exact(0), Optional.empty());
  }

  private static ComputationOutcome.Value value(Result result) {
    return assertInstanceOf(ComputationOutcome.Value.class, result.outcome());
  }

  private static boolean notes(Result result, String part) {
    return result.notes().stream().anyMatch(n -> n.contains(part));
  }

  /**
   * At 95.45 % of 200 records three standard deviations of the count allow 91 to 100 %; more where
   * a record leaves open which law its noise follows.
   */
  @ParameterizedTest
  @CsvSource({"0, 40", "0, 120", "0.6, 200", "0.8, 400"})
  void theIntervalHoldsTheTruthAsOftenAsItSays(double r, int n) {
    int held = 0;
    for (int seed = 0; seed < 200; seed++) {
      TimeSeries series = Records.current(Records.alike(seed, n, r), 1.5, 60);
      ComputationOutcome.Uncertainty u = value(drift(series)).uncertainty().orElseThrow();
      held += u.lower() <= 1.5 && 1.5 <= u.upper() ? 1 : 0;
    }
    double share = held / 200.0;
    assertTrue(share >= 0.91, "held " + share);
  }

  @Test
  void aWildReadingDoesNotMoveItAndTheMedianOfPairsStandsBeside() {
    double[] errors = Records.white(1, 100);
    errors[97] = 5000;
    Result found = drift(Records.current(errors, 2, 600));
    assertEquals(2, value(found).value(), 0.1);
    assertTrue(notes(found, "(Theil, Sen): "), found.notes()::toString);
  }

  @Test
  void aLongRecordIsAveragedAndSaysSo() {
    Result found = drift(Records.current(Records.white(2, 100_000), 0.7, 1));
    assertTrue(notes(found, "on means of 20 readings"), found.notes()::toString);
    ComputationOutcome.Uncertainty u = value(found).uncertainty().orElseThrow();
    assertTrue(u.lower() < 0.7 && 0.7 < u.upper());
    // White errors: u = sigma sqrt(12/n)/duration; a record leaves open whether there is more.
    double white = Math.sqrt(12.0 / 100_000) / (100_000 / 3600.0);
    assertTrue(u.standard() > 0.9 * white && u.standard() < 1.8 * white, () -> u + "");
  }

  @Test
  void theBenchsOwnDriftWidensTheInterval() {
    TimeSeries series = Records.current(Records.white(3, 200), 1, 60);
    ErrorSource meter =
        ErrorSource.within("meter drift", ErrorSource.INSTRUMENT_AND_RANGE, "dmm", 3, "ppm/h");
    Result found = Drift.of(series, QUESTION, Estimate.exact(0).with(meter, 1), Optional.empty());
    double u = value(found).uncertainty().orElseThrow().standard();
    assertEquals(Math.sqrt(3), u, 0.05);
    assertEquals("meter drift", found.budget().get(0).component());
  }

  @Test
  void timesThatRunBackwardsArePutInOrderAndNoted() {
    TimeSeries series =
        TimeSeries.of(
            new double[] {0, 3600, 1800, 7200, 5400},
            new double[] {1e-3, 1e-3 + 2e-9, 1e-3 + 1e-9, 1e-3 + 4e-9, 1e-3 + 3e-9});
    Result found = drift(series);
    assertEquals(2, value(found).value(), 1e-6);
    assertTrue(notes(found, "times ran backwards"));
  }

  @Test
  void constantReadingsHaveADriftOfZeroWithoutAKnownUncertainty() {
    ComputationOutcome.Value found = value(drift(Records.current(new double[50], 0, 60)));
    assertEquals(0, found.value());
    assertEquals(Optional.empty(), found.uncertainty());
  }

  @Test
  void tooFewReadingsOrOneMomentSayWhatIsMissing() {
    ComputationOutcome two = drift(Records.current(new double[2], 0, 60)).outcome();
    assertEquals(
        "2 readings over 60 s; needs at least 5 at different times",
        assertInstanceOf(ComputationOutcome.Missing.class, two).reason().replace("60.0", "60"));
    ComputationOutcome moment = drift(Records.current(new double[9], 0, 0)).outcome();
    assertInstanceOf(ComputationOutcome.Missing.class, moment);
    assertInstanceOf(
        ComputationOutcome.Missing.class, drift(Records.current(new double[0], 0, 0)).outcome());
  }
}
