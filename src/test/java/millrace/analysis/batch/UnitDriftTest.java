// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.ResultBuilder;
import millrace.analysis.uncertainty.ResultBuilder.Subject;
import millrace.evidence.Result;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;
import org.junit.jupiter.api.Test;

class UnitDriftTest {
  private static final Subject SUBJECT =
      new Subject(
          ResultQuantity.CURRENT_ERROR,
          Optional.of("1mA"),
          ResultConditions.NONE,
          Optional.of("I_N"),
          "any",
          0.9545);

  /** A meter's gain of 20 ppm and noise of 0.3 ppm. */
  private static Result result(double ppm) {
    Estimate estimate =
        Estimate.exact(ppm)
            .with(
                ErrorSource.normal(
                    "meter gain", ErrorSource.INSTRUMENT_AND_RANGE, "dmm", 20, "ppm"),
                1)
            .with(ErrorSource.normal("noise", ErrorSource.POINT, "p", 0.3, "ppm"), 1);
    return ResultBuilder.value(SUBJECT, estimate, 9, List.of());
  }

  @Test
  void whatTheSameInstrumentsShareCancels() {
    UnitDrift found = UnitDrift.between(result(10), result(12), c -> true, 0.9545).orElseThrow();
    assertEquals(2, found.value(), 1e-12);
    assertEquals(0.3 * Math.sqrt(2), found.uncertainty().orElseThrow().standard(), 1e-12);
    assertEquals(List.of("meter gain"), found.cancelled());
    assertTrue(found.significant());
  }

  @Test
  void otherInstrumentsCancelNothing() {
    UnitDrift found = UnitDrift.between(result(10), result(12), c -> false, 0.9545).orElseThrow();
    assertEquals(Math.sqrt(2 * (400 + 0.09)), found.uncertainty().orElseThrow().standard(), 1e-9);
    assertEquals(List.of(), found.cancelled());
    assertFalse(found.significant());
  }

  @Test
  void degreesOfFreedomAreThoseOfWhatIsLeft() {
    ErrorSource few =
        new ErrorSource(
            "noise",
            ErrorSource.POINT,
            "p",
            millrace.evidence.ErrorDistribution.NORMAL,
            OptionalDouble.of(9),
            0.3,
            "ppm");
    ErrorSource gain =
        ErrorSource.normal("meter gain", ErrorSource.INSTRUMENT_AND_RANGE, "dmm", 20, "ppm");
    Result one =
        ResultBuilder.value(SUBJECT, Estimate.exact(1).with(few, 1).with(gain, 1), 9, List.of());
    UnitDrift found = UnitDrift.between(one, one, c -> true, 0.9545).orElseThrow();
    assertEquals(18, found.uncertainty().orElseThrow().degreesOfFreedom().orElseThrow(), 1e-9);
  }

  @Test
  void aResultThatIsMissingHasNoDrift() {
    Result none = ResultBuilder.missing(SUBJECT, "one load", 1);
    assertEquals(Optional.empty(), UnitDrift.between(none, result(1), c -> true, 0.9545));
  }

  @Test
  void withoutAKnownUncertaintyTheChangeStandsAlone() {
    Result bare = ResultBuilder.value(SUBJECT, Estimate.exact(5), 1, List.of());
    UnitDrift found = UnitDrift.between(bare, result(7), c -> true, 0.9545).orElseThrow();
    assertEquals(Optional.empty(), found.uncertainty());
    assertFalse(found.significant());
  }
}
