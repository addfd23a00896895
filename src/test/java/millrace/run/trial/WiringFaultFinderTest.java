// SPDX-License-Identifier: Apache-2.0
package millrace.run.trial;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.run.trial.WiringFaultFinder.Expected;
import millrace.run.trial.WiringFaultFinder.Look;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Each slip of the wiring has one message. */
class WiringFaultFinderTest {
  private static final double NOMINAL_A = 1e-3;
  private static final double HALF_OHM = 6750;

  private static Optional<String> named(OptionalDouble standard, Look... looks) {
    return WiringFaultFinder.name(
        Arrays.asList(looks), new Expected("1mA", NOMINAL_A, OptionalDouble.of(13.5), standard));
  }

  private static Look look(double ohm, double amps, double volts) {
    return new Look(ohm, OptionalDouble.of(amps), OptionalDouble.of(volts));
  }

  private static Look look(double ohm, double amps) {
    return new Look(ohm, OptionalDouble.of(amps), OptionalDouble.empty());
  }

  private static Look[] nothing(double volts) {
    return new Look[] {look(0, 0, volts), look(HALF_OHM, 1e-12, volts)};
  }

  @Test
  void aUnitThatDrivesItsCurrentHasNoSlip() {
    assertEquals(
        Optional.empty(),
        named(OptionalDouble.empty(), look(0, 0.9999e-3), look(HALF_OHM, 1.0001e-3)));
  }

  @Test
  void reversedLeadsAreNamed() {
    assertEquals(
        Optional.of(
            "range 1mA into 0 ohm: -1.0000 mA flows; expected 1.000 mA within 1 %. The current is"
                + " negative: the leads are reversed. Exchange the unit's two leads."),
        named(OptionalDouble.empty(), look(0, -1e-3), look(HALF_OHM, -1e-3)));
  }

  @Test
  void anOpenLeadIsNamedWhereTheCheckStandardReadsRight() {
    assertEquals(
        Optional.of(
            "range 1mA into 0 ohm: 0 A flows at 17.90 V; expected 1.000 mA within 1 %. The"
                + " terminals stand at the rail, so the loop is open. The check standard reads"
                + " right through the same meter: a lead of the unit is open, or its source is off."
                + " Check the unit's leads."),
        named(OptionalDouble.of(1.00001), nothing(17.9)));
  }

  @Test
  void aBlownFuseIsNamedWhereTheCheckStandardGivesNothingEither() {
    assertEquals(
        Optional.of(
            "range 1mA into 0 ohm: 0 A flows at 0 V; expected 1.000 mA within 1 %. The check"
                + " standard gives no current either, and the meter reports no error: the current"
                + " meter's fuse is blown. Check the fuse, then the meter's leads."),
        named(OptionalDouble.of(0), nothing(0)));
  }

  @Test
  void withoutACheckStandardBothAreNamedInTheOrderToCheck() {
    String rail = named(OptionalDouble.empty(), nothing(18)).orElseThrow();
    assertEquals(
        "A lead is open or the current meter's fuse is blown. Check the leads, then the fuse.",
        rail.substring(rail.indexOf("A lead is open")));
    String dark = named(OptionalDouble.empty(), nothing(0)).orElseThrow();
    assertEquals(
        "A lead is open, the current meter's fuse is blown, or the source is off. Check in this"
            + " order: source, leads, fuse.",
        dark.substring(dark.indexOf("A lead is open")));
  }

  @Test
  void aVoltageAtTheRailIsNamed() {
    assertEquals(
        Optional.of(
            "range 1mA into 6.750 kohm: 710.00 uA flows at 17.50 V; expected 1.000 mA within 1 %."
                + " The voltage is at the rail: the loop has more resistance than the load is set"
                + " to. Check the load's setting and what else is in series."),
        named(OptionalDouble.empty(), look(0, 1e-3, 4), look(HALF_OHM, 7.1e-4, 17.5)));
  }

  @Test
  void aMeterAcrossTheOutputIsNamed() {
    assertEquals(
        Optional.of(
            "range 1mA into 0 ohm: 29.000 uA flows; expected 1.000 mA within 1 %. More flows into a"
                + " larger load: the current meter sits across the output, beside the load. Connect"
                + " it in series with the load."),
        named(OptionalDouble.empty(), look(0, 2.9e-5), look(HALF_OHM, 0.9992e-3)));
  }

  @Test
  void aMeterThatGivesNoNumberIsSaid() {
    Look none = new Look(0, OptionalDouble.empty(), OptionalDouble.empty());
    assertEquals(
        "range 1mA into 0 ohm: no current could be read; expected 1.000 mA within 1 %.",
        named(OptionalDouble.empty(), none).orElseThrow().substring(0, 77));
  }

  @ParameterizedTest
  @CsvSource({"23, 49.8, 50.1", "23, 24, 26", "23, 23, 23", "50, 10.2, 10"})
  void aThermometerThatFollowsIsAtTheUnit(double before, double after, double chamber) {
    assertEquals(Optional.empty(), WiringFaultFinder.thermometer(before, after, chamber));
  }

  @Test
  void aThermometerThatStaysBehindIsNotAtTheUnit() {
    assertEquals(
        Optional.of(
            "the unit's thermometer went from 23.00 degC to 23.40 degC while the chamber went to"
                + " 50.00 degC; expected it to follow: it is not at the unit. Fasten it to the"
                + " unit."),
        WiringFaultFinder.thermometer(23, 23.4, 50));
  }

  @Test
  void everyOtherCurrentIsSaidWithWhatToCheck() {
    List<Look> looks = List.of(look(0, 1e-4), look(HALF_OHM, 1e-4));
    assertEquals(
        "Check range selection and supply, and that the load box and the unit are the right ones.",
        named(OptionalDouble.empty(), looks.toArray(Look[]::new)).orElseThrow().substring(69));
  }
}
