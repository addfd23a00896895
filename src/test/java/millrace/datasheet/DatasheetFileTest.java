// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Optional;
import millrace.evidence.DecisionRule;
import millrace.evidence.Limits;
import millrace.evidence.ResultQuantity;
import millrace.fault.BadInputException;
import millrace.quantity.ClosedInterval;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

class DatasheetFileTest {
  private static final String WHOLE =
      """
      datasheet: BX5 excitation source
      serial: 'BX5-[0-9]{4}'
      reference temperature: 20 degC
      open-circuit voltage: 14 V
      thermal time constant: 10 min
      compliance: {voltage: 9 V, criterion: 0.2 %, relative to: short}
      decision: {rule: guarded four outcomes, r: 0.8}
      coverage: 99 %
      overdue instruments: refuse
      retests: 3
      conditional pass counts as fail: yes
      parts:
        REF: {kind: reference, value: 4.096 V, tolerance: 0.05 %, tempco: 3 ppm/K, curvature: 0.02 ppm/K2}
        R1: {kind: resistor, value: 4.096 kohm, tolerance: 0.05 %, tempco: 10 ppm/K, curvature: 0.05 ppm/K2,
             network: N1, tracking tolerance: 0.01 %, tracking tempco: 1 ppm/K}
        A1: {kind: amplifier, offset: 30 uV, drift: 0.3 uV/K, bias: 5 pA, gain: 120 dB}
        Q1: {kind: pass device, type: bipolar, beta: 150}
        Q2: {kind: pass device, type: insulated gate, gate leakage: 2 pA}
        D1: {kind: series drop, voltage: 0.6 V}
        L1: {kind: leakage, resistance: 200 Gohm, doubles every: 9 K}
        S1: {kind: supply, voltage: 15 V}
      ranges:
        1mA: {nominal: 1 mA, reference load: 100 ohm, compliance voltage: 8 V,
              made from: {reference: REF, set voltage: 4.096 V, resistor: R1, amplifier: A1,
              pass device: Q1, series: [D1], leakage: L1, supply: S1}}
        10uA: {nominal: -10 uA}
      limits:
        - {quantity: current_error, range: 1mA, lower: -100 ppm - 5 nA, upper: 100 ppm + 5 nA,
           when: {temperature: [18 degC, 28 degC], terminal voltage: [0 V, 8 V],
                  supply: [14 V, 16 V], time on: [30 min, 8 h]}}
        - {quantity: tempco, range: all, upper: 5 ppm/K}
      bins:
        best: [{quantity: tempco, lower: -1 ppm/K, upper: 1 ppm/K}]
        rest: []
      recalibrate: 18 months
      """;

  private static final Datasheet READ = read(WHOLE);

  private static Datasheet read(String text) {
    return DatasheetFile.read("kind.yaml", text.getBytes(UTF_8));
  }

  private static String refused(String text) {
    return assertThrows(BadInputException.class, () -> read(text)).getMessage();
  }

  @Test
  void everyKeyIsRead() {
    assertEquals("BX5 excitation source", READ.name());
    assertTrue(READ.serial().orElseThrow().matches("BX5-0042"));
    assertEquals(20, READ.referenceTemperatureDegC());
    assertEquals(Optional.of(14.0), READ.openCircuitVoltageV());
    assertEquals(Optional.of(Duration.ofMinutes(10)), READ.thermalTimeConstant());
    assertEquals(
        new Datasheet.Compliance(Optional.of(9.0), 2e-3, Datasheet.Reference.SHORT),
        READ.compliance());
    assertEquals(new DecisionRule(DecisionRule.Kind.GUARDED_FOUR_OUTCOMES, 0.8), READ.decision());
    assertEquals(0.99, READ.coverage());
    assertEquals(Datasheet.Overdue.REFUSE, READ.overdue());
    assertEquals(Optional.of(new RecalibrationInterval(18, ChronoUnit.MONTHS)), READ.recalibrate());
    assertEquals(3, READ.retests());
    assertTrue(READ.conditionalPassFails());
  }

  @Test
  void everyKindOfPartIsRead() {
    assertEquals(
        new DatasheetPart.Reference(4.096, 5e-4, 3e-6, Optional.of(2e-8)), READ.parts().get("REF"));
    assertEquals(
        new DatasheetPart.Resistor(
            4096,
            5e-4,
            1e-5,
            Optional.of(5e-8),
            Optional.of("N1"),
            Optional.of(1e-4),
            Optional.of(1e-6)),
        READ.parts().get("R1"));
    assertEquals(new DatasheetPart.Amplifier(3e-5, 3e-7, 5e-12, 1e6), READ.parts().get("A1"));
    assertEquals(new DatasheetPart.PassDevice(Optional.of(150.0), 0), READ.parts().get("Q1"));
    assertEquals(new DatasheetPart.PassDevice(Optional.empty(), 2e-12), READ.parts().get("Q2"));
    assertEquals(new DatasheetPart.SeriesDrop(0.6), READ.parts().get("D1"));
    assertEquals(new DatasheetPart.Leakage(2e11, 9), READ.parts().get("L1"));
    assertEquals(new DatasheetPart.Supply(15), READ.parts().get("S1"));
    assertEquals(
        DatasheetPart.class.getPermittedSubclasses().length,
        READ.parts().values().stream().map(Object::getClass).distinct().count());
  }

  @Test
  void rangesKeepTheirOrderAndMayDifferFromTheDatasheet() {
    assertEquals(List.of("1mA", "10uA"), List.copyOf(READ.ranges().keySet()));
    Datasheet.Range range = READ.range("1mA").orElseThrow();
    assertEquals(Optional.of(100.0), range.referenceLoadOhm());
    assertEquals(Optional.of(8.0), READ.complianceVoltageV("1mA"));
    assertEquals(Optional.of(9.0), READ.complianceVoltageV("10uA"));
    assertEquals(-1e-5, READ.range("10uA").orElseThrow().nominalA());
    Datasheet.MadeFrom made = range.madeFrom().orElseThrow();
    assertEquals(
        new Datasheet.MadeFrom(
            "REF",
            Optional.of(4.096),
            "R1",
            Optional.of("A1"),
            Optional.of("Q1"),
            List.of("D1"),
            Optional.of("L1"),
            Optional.of("S1"),
            Optional.empty(),
            List.of()),
        made);
  }

  private static final String TWO_STAGES =
      """
      datasheet: two stages
      open-circuit voltage: 14 V
      parts:
        REF: {kind: reference, value: 2.5 V, tolerance: 0.05 %, tempco: 3 ppm/K, curvature: 0.02 ppm/K2}
        RS: {kind: resistor, value: 10 kohm, tolerance: 0.05 %, tempco: 5 ppm/K}
        RT1: {kind: resistor, value: 2 kohm, tolerance: 0.05 %, tempco: 5 ppm/K}
        RT2: {kind: resistor, value: 18 kohm, tolerance: 0.05 %, tempco: 5 ppm/K}
        R1: {kind: resistor, value: 500 ohm, tolerance: 0.05 %, tempco: 5 ppm/K}
        R2: {kind: resistor, value: 4.5 kohm, tolerance: 0.05 %, tempco: 5 ppm/K}
        A0: {kind: amplifier, offset: 30 uV, drift: 0.3 uV/K, bias: 5 pA, gain: 120 dB}
      ranges:
        1mA:
          nominal: 1 mA
          made from:
            reference: REF
            first stage: {resistor: RS, top: [RT1, RT2], amplifier: A0}
            resistor: R1
            taps: [R2]
      """;

  @Test
  void aFirstStageMakesTheSetVoltageAndTapsAddUp() {
    Datasheet two = read(TWO_STAGES);
    Datasheet.MadeFrom made = two.range("1mA").orElseThrow().madeFrom().orElseThrow();
    assertEquals(5.0, two.setVoltageV(made).orElseThrow(), 1e-12);
    assertEquals(5e3, two.resistanceOhm(made).orElseThrow(), 1e-9);
    assertEquals(List.of("RT1", "RT2"), made.firstStage().orElseThrow().top());
  }

  @Test
  void aLimitHasItsConditionsAndWidensByItsAbsoluteShare() {
    DatasheetLimit limit = READ.limits().get(0);
    assertEquals(Limits.between(-105, 105), limit.limit(1e-3));
    assertEquals(Limits.between(-600, 600), limit.limit(1e-5));
    assertEquals(Optional.of(new ClosedInterval(18, 28)), limit.when().temperatureDegC());
    assertEquals(Optional.of(new ClosedInterval(0, 8)), limit.when().terminalVoltageV());
    assertEquals(Optional.of(new ClosedInterval(14, 16)), limit.when().supplyV());
    assertEquals(Optional.of(new ClosedInterval(1800, 28_800)), limit.when().timeOnS());
    assertTrue(limit.isFor(Optional.of("1mA")));
    assertTrue(!limit.isFor(Optional.of("10uA")));
    assertTrue(READ.limits().get(1).isFor(Optional.of("10uA")));
    assertTrue(READ.limits().get(1).lower().isEmpty());
    assertEquals("kind.yaml:28:5", limit.place().toString());
  }

  @Test
  void binsKeepTheirOrder() {
    assertEquals(List.of("best", "rest"), READ.bins().stream().map(Datasheet.Bin::name).toList());
    assertEquals(Limits.between(-1, 1), READ.bins().get(0).lines().get(0).limit(1));
    assertEquals(List.of(), READ.bins().get(1).lines());
  }

  @Test
  void whatIsLeftOutHasItsDefault() {
    Datasheet bare = read("{datasheet: bare, ranges: {1mA: {nominal: 1 mA}}}");
    assertEquals(23, bare.referenceTemperatureDegC());
    assertEquals(0.9545, bare.coverage());
    assertEquals(DecisionRule.SIMPLE, bare.decision());
    assertEquals(
        new Datasheet.Compliance(Optional.empty(), 1e-3, Datasheet.Reference.LINE),
        bare.compliance());
    assertEquals(1, bare.retests());
    assertEquals(Datasheet.Overdue.WARN, bare.overdue());
    assertEquals(Optional.empty(), bare.recalibrate());
    assertEquals(List.of(), bare.limits());
    assertEquals(List.of(), bare.bins());
  }

  @Test
  void aGuardedRuleHasAFactorOfOneUnlessItSaysOtherwise() {
    Datasheet guarded =
        read("{datasheet: g, decision: {rule: guarded}, ranges: {1mA: {nominal: 1 mA}}}");
    assertEquals(1, guarded.decision().guardFactor());
  }

  /** A limit of every quantity is written in a unit of its kind, and counted in its own. */
  @ParameterizedTest
  @EnumSource(ResultQuantity.class)
  void everyQuantityCanBeLimited(ResultQuantity quantity) {
    boolean current =
        quantity == ResultQuantity.CURRENT || quantity == ResultQuantity.CURRENT_ERROR;
    Datasheet limited =
        read(
            "{datasheet: l, ranges: {1mA: {nominal: 1 mA}}, limits: [{quantity: %s, upper: 3 %s%s}]}"
                .formatted(
                    quantity.key(),
                    quantity.unit(),
                    current ? ", when: {terminal voltage: [0 V, 1 V]}" : ""));
    assertEquals(3, limited.limits().get(0).limit(1e-3).upper().orElseThrow(), 1e-12);
  }

  private static String refusedLimit(String limit) {
    return assertThrows(
            BadInputException.class,
            () ->
                read(
                    "{datasheet: l, compliance: {voltage: 9 V}, ranges: {1mA: {nominal: 1 mA}}, limits: [%s]}"
                        .formatted(limit)))
        .getMessage();
  }

  @Test
  void aLimitOnACurrentWithoutATerminalVoltageSaysWhatToWrite() {
    assertEquals(
        "kind.yaml:1:85: a limit on current_error names no terminal voltage; expected the voltages"
            + " over which the current is promised. Write 'when: {terminal voltage: [0 V, 9 V]}',"
            + " with the temperatures if they are promised too.",
        refusedLimit(
            "{quantity: current_error, upper: 3 ppm, when: {temperature: [18 degC, 28 degC]}}"));
  }

  @Test
  void aTerminalVoltageIsRefusedWhereItWouldChangeNothing() {
    assertEquals(
        "kind.yaml:1:85: a limit on tempco names a terminal voltage, which it does not depend on;"
            + " expected a terminal voltage only with current, current_error, output_conductance,"
            + " output_resistance and load_regulation. Take 'terminal voltage' out.",
        refusedLimit("{quantity: tempco, upper: 3 ppm/K, when: {terminal voltage: [0 V, 8 V]}}"));
  }

  /** One line of the whole file changed, and what is said of it. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '\u0000',
      textBlock =
          """
          upper: 5 ppm/K} | upper: 5} | kind.yaml:31:44: '5' has no unit; expected a temperature coefficient, as in '3 ppm/K'. Write the unit behind the number.
          upper: 5 ppm/K} | upper: 5 ppm} | kind.yaml:31:45: '5 ppm' is a ratio; expected a temperature coefficient, as in '3 ppm/K'.
          upper: 5 ppm/K} | lower: 5 ppm/K, upper: -5 ppm/K} | kind.yaml:31:5: the lower limit 5.0 is not below the upper limit -5.0.
          range: all, upper: 5 ppm/K} | range: all} | kind.yaml:31:5: a limit has a lower or an upper side, found neither.
          quantity: tempco, range: all | quantity: tempko, range: all | kind.yaml:31:16: 'tempko' is not known here
          range: all, | range: 1A, | kind.yaml:31:5: the limit is for range '1A', which does not exist; expected '1mA' or '10uA', or all. Did you mean '1mA'?
          resistor: R1, amplifier | resistor: R7, amplifier | kind.yaml: range '1mA' is made from 'R7', which does not exist; expected a resistor among the parts. Did you mean 'R1'?
          amplifier: A1, | amplifier: Q2, | kind.yaml: range '1mA' is made from 'Q2', which is something else; expected an amplifier among the parts.
          set voltage: 4.096 V | set voltage: 2.048 V | kind.yaml: range '1mA' is 1.000 mA, but its set voltage over its resistor gives 500.0 uA; expected the two to agree. Correct the nominal current, the set voltage or the resistor.
          beta: 150 | beta: -1 | kind.yaml:17:7: the beta is -1; expected above 0.
          , beta: 150 | | kind.yaml:17:7: a bipolar pass device without beta; expected 'beta: NUMBER'.
          network: N1, | | kind.yaml:14:7: a tracking figure without a network; expected 'network: NAME' beside it.
          kind: supply | kind: suply | kind.yaml:21:14: 'suply' is not known as kind; expected 'reference', 'resistor', 'amplifier', 'pass device', 'series drop', 'leakage' or 'supply'. Did you mean 'supply'?
          nominal: -10 uA | nominal: 0 A | kind.yaml:26:19: '0 A' is out of range; expected a nominal current that is not 0.
          reference load: 100 ohm | reference load: -1 ohm | kind.yaml:23:40: '-1 ohm' is out of range; expected a resistance of 0 ohm or more.
          criterion: 0.2 % | criterion: 100 % | kind.yaml:6:13: the compliance criterion is 1.0, expected above 0 and below 100 %.
          coverage: 99 % | coverage: 40 % | kind.yaml:8:11: '40 %' is out of range; expected above 50 % and below 100 %.
          BX5-[0-9]{4} | BX5-[0-9 | kind.yaml:2:9: 'BX5-[0-9' is no regular expression: missing closing ]; expected a regular expression.
          [18 degC, 28 degC] | [28 degC, 18 degC] | kind.yaml:29:26: the interval from 28.0 to 18.0 is upside down or has no end.
          [18 degC, 28 degC] | [18 degC] | kind.yaml:29:26: a list of 1; expected a list of at least 2.
          upper: 100 ppm + 5 nA | upper: 100 ppm + -5 nA | kind.yaml:28:84: the absolute share of a limit is negative; expected a current of 0 or more.
          recalibrate: 18 months | recalibrate: 18 mo | kind.yaml:35:14: '18 mo' is no interval of the calendar; expected a whole number of days, weeks, months or years, as in '12 months'.
          retests: 3 | retests: many | kind.yaml:10:10: 'many' is no whole number; expected a whole number from 0 to 100.
          best: [{quantity: tempco, lower: -1 ppm/K, upper: 1 ppm/K}] | best: [] | kind.yaml: bin 'best' takes everything, and bin 'rest' behind it nothing; expected a bin without lines last. Move it to the end.
          """)
  void whatIsWrongIsSaidWithItsPlace(String from, String to, String message) {
    String text = WHOLE.replace(from, to == null ? "" : to);
    assertTrue(!text.equals(WHOLE), "nothing changed: " + from);
    String said = refused(text);
    assertTrue(said.startsWith(message), said);
  }

  @Test
  void aDatasheetWithoutARangeIsRefused() {
    assertEquals(
        "kind.yaml:1:27: an empty map is out of range; expected at least one range.",
        refused("{datasheet: none, ranges: {}}"));
  }

  @Test
  void aRangeWithoutASetVoltageHoldsThatOfItsReference() {
    Datasheet sheet = read(WHOLE.replace("set voltage: 4.096 V, ", ""));
    Datasheet.MadeFrom made = sheet.range("1mA").orElseThrow().madeFrom().orElseThrow();

    assertEquals(Optional.of(4.096), sheet.setVoltageV(made));
    assertTrue(
        refused(WHOLE.replace("set voltage: 4.096 V, ", "").replace("value: 4.096 V", "value: 5 V"))
            .contains("its set voltage over its resistor gives 1.221 mA"));
  }

  @Test
  void aPassDeviceStatesWhatItsTypeHasAndNothingElse() {
    assertTrue(
        refused(WHOLE.replace("beta: 150", "beta: 150, gate leakage: 1 pA"))
            .contains("a bipolar pass device has no gate"));
    assertTrue(
        refused(WHOLE.replace("insulated gate, gate leakage: 2 pA", "insulated gate, beta: 100"))
            .contains("an insulated gate has no beta"));
  }
}
