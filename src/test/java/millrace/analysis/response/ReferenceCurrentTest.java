// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import millrace.analysis.load.LoadSweepRequest.Reference;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import org.junit.jupiter.api.Test;

class ReferenceCurrentTest {
  private static final double[] FIVE = {23, 10, 30, 40, 50, 23};
  private static final double[] VOLTS = {0, 2, 4, 6, 8, 10};

  private static ReferenceCurrent of(RangeMeasurements data, Reference reference) {
    return new ReferenceCurrent(Flat.response(data), reference, 0.9545);
  }

  private static ComputationOutcome.Value value(Result result) {
    return assertInstanceOf(ComputationOutcome.Value.class, result.outcome());
  }

  @Test
  void isTheResponseAtTheReferenceLoadAndTemperature() {
    ReferenceCurrent at = of(Flat.range("r", 0.05, FIVE, VOLTS), Reference.atOhm(4000));
    Result error = at.error();
    assertEquals(Flat.ppm(23, 4, 0), value(error).value(), 0.05);
    assertEquals(4000, error.at().number(ResultConditionKey.LOAD_OHM).orElseThrow());
    // a gain of 10 ppm and little else
    assertEquals(20, value(error).uncertainty().orElseThrow().expanded(), 0.5);
    ComputationOutcome.Value current = value(at.current(OptionalDouble.of(40)));
    assertEquals(1e-3 * (1 + Flat.ppm(40, 4, 0.05) * 1e-6), current.value(), 1e-10);
    assertEquals(2e-8, current.uncertainty().orElseThrow().expanded(), 5e-10);
  }

  @Test
  void isMissingWhereTheReferenceWasNotMeasured() {
    Result error = of(Flat.range("r", 0, FIVE, VOLTS), Reference.atOhm(20_000)).error();
    String reason = assertInstanceOf(ComputationOutcome.Missing.class, error.outcome()).reason();
    assertTrue(reason.contains("measure at 20 V"), reason);
  }

  @Test
  void isMissingFarFromTheReferenceTemperatureWithOneVisit() {
    Result error = of(Flat.range("r", 0, new double[] {26}, VOLTS), Reference.SHORT).error();
    String reason = assertInstanceOf(ComputationOutcome.Missing.class, error.outcome()).reason();
    assertEquals("23 degC lies outside of 26 degC: measure at 23 degC", reason);
  }

  @Test
  void saysThatItIsNotCorrectedWhereNoTemperatureIsKnown() {
    RangeMeasurements data = Flat.range("r", 0, new double[] {23}, VOLTS);
    RangeMeasurements unknown =
        new RangeMeasurements("r", data.nominalA(), data.points(), Map.of(), false);
    Result error = of(unknown, Reference.SHORT).error();
    assertEquals(100, value(error).value(), 0.01);
    assertTrue(error.notes().contains("no temperature is known: not corrected to T_ref"));
  }

  /** u^2 grows by what the form departs from the points at the reference, beyond their own u. */
  @Test
  void growsWhereTheFormMissesThePointsThere() {
    RangeMeasurements data = Flat.range("r", 0, FIVE, VOLTS);
    List<ResponsePoint> bumped = new ArrayList<>();
    for (ResponsePoint p : data.points()) {
      boolean there = p.voltageV().value() == 4 && Math.abs(p.temperatureDegC().value() - 23) < 1;
      bumped.add(
          new ResponsePoint(
              p.key(),
              p.visit(),
              p.timeS(),
              there ? p.currentA().plus(3e-9) : p.currentA(), // 3 ppm
              p.voltageV(),
              p.temperatureDegC(),
              p.supplyV()));
    }
    ComputationOutcome.Value plain = value(of(data, Reference.atOhm(4000)).error());
    ComputationOutcome.Value grown =
        value(
            of(
                    new RangeMeasurements("r", data.nominalA(), bumped, Map.of(), true),
                    Reference.atOhm(4000))
                .error());
    double more =
        Math.hypot(3, plain.uncertainty().orElseThrow().standard())
            - grown.uncertainty().orElseThrow().standard();
    assertTrue(more < 0.2, grown + " against " + plain);
  }

  /** Every load lies beyond the knee: nothing is told of a short. */
  @Test
  void isMissingWhereThereIsNoPlateau() {
    RangeMeasurements data = Flat.range("r", 0, new double[] {23}, VOLTS);
    RangeMeasurements falling =
        new RangeMeasurements(
            "r",
            data.nominalA(),
            data.points(),
            Map.of(0, RangeMeasurements.Edge.NO_PLATEAU),
            true);
    UnitResponse unit =
        UnitResponse.of(List.of(falling), new ResponseSettings(23, Map.of(), Map.of()));
    assertTrue(unit.range("r").isEmpty());
    assertTrue(unit.whyNot("r").orElseThrow().startsWith("the current falls from the lowest load"));
  }
}
