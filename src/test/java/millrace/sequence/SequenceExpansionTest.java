// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import static millrace.NotEmpty.notEmpty;
import static millrace.sequence.Sample.keys;
import static millrace.sequence.Sample.plan;
import static millrace.sequence.Sample.refused;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.PointConditions;
import millrace.evidence.SweepDirection;
import millrace.fault.BadInputException;
import millrace.sequence.Plan.PlannedPoint;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SequenceExpansionTest {
  private static List<Double> ohms(String values) {
    return plan("- in ranges: 1mA\n  do: {over loads: " + values + ", sweep: up}").points().stream()
        .map(p -> p.conditions().loadOhm().orElseThrow())
        .toList();
  }

  @Test
  void sweepsNestInAnyOrder() {
    assertEquals(
        List.of(
            "100uA/23 degC/1 kohm up",
            "100uA/50 degC/1 kohm up",
            "1mA/23 degC/1 kohm up",
            "1mA/50 degC/1 kohm up"),
        keys(
            """
            - in ranges: all
              do:
                - at temperatures: [23 degC, 50 degC]
                  do:
                    - over loads: {resistance: 1 kohm}
                      sweep: up
            """));
  }

  @Test
  void everySweepSetsItsCondition() {
    Plan plan =
        SequenceExpansion.expand(
            Sample.steps(
                """
                - in slots: left
                  do:
                    - at temperatures: 50 degC
                      do:
                        - in ranges: 1mA
                          do:
                            - at set currents: 2 mA
                              do:
                                - at supply voltages: 15 V
                                  do:
                                    - over loads: {voltage: 4 V}
                                      sweep: down
                """),
            Sample.DATASHEET,
            List.of("left", "right"));
    PlannedPoint point = plan.points().get(0);
    assertEquals("slot left/50 degC/1mA/set 2 mA/supply 15 V/2 kohm down", point.key());
    assertEquals(
        new PointConditions(
            Optional.of("1mA"),
            OptionalDouble.of(1e-3),
            OptionalDouble.of(50),
            OptionalDouble.of(2000),
            OptionalDouble.of(4),
            OptionalDouble.of(15),
            OptionalDouble.of(2e-3),
            Optional.of(SweepDirection.DOWN),
            Optional.of("left"),
            0),
        point.conditions());
    assertEquals(1, plan.points().size());
  }

  @Test
  void bothMeansUpAndThenDownWhateverOrderIsWritten() {
    assertEquals(
        List.of("1mA/0 ohm up", "1mA/1 kohm up", "1mA/1 kohm down", "1mA/0 ohm down"),
        keys("- in ranges: 1mA\n  do:\n  - over loads: {resistance: [1 kohm, 0 ohm]}\n"));
  }

  @Test
  void asListedKeepsTheOrderAndClaimsNoDirection() {
    Plan plan =
        plan(
            "- in ranges: 1mA\n"
                + "  do:\n"
                + "  - over loads: {resistance: [1 kohm, 0 ohm, 2 kohm]}\n"
                + "    sweep: as listed\n");
    assertEquals(List.of("1mA/1 kohm", "1mA/0 ohm", "1mA/2 kohm"), keys(plan));
    assertTrue(
        notEmpty(plan.points()).stream().allMatch(p -> p.conditions().direction().isEmpty()));
  }

  @Test
  void linearSpacingHasBothEndsAndTidySteps() {
    assertEquals(
        List.of(0.0, 100.0, 200.0, 300.0, 400.0, 500.0, 600.0, 700.0, 800.0, 900.0, 1000.0),
        ohms("{resistance: {from: 0 ohm, to: 1 kohm, points: 11}}"));
  }

  @Test
  void logarithmicSpacingHasEqualRatios() {
    List<Double> ohms =
        ohms("{resistance: {from: 10 ohm, to: 10 kohm, points: 4, spacing: logarithmic}}");
    assertEquals(List.of(10.0, 100.0, 1000.0, 10_000.0), ohms);
  }

  @Test
  void sharesAreOfTheRangesOwnComplianceElseOfTheDatasheets() {
    Plan plan =
        plan(
            "- in ranges: all\n"
                + "  do:\n"
                + "  - over loads: {share of compliance: 70 %}\n"
                + "    sweep: up\n");
    assertEquals(List.of("100uA/70 kohm up", "1mA/3.5 kohm up"), keys(plan));
    assertEquals(7.0, plan.points().get(0).conditions().terminalVoltageV().orElseThrow());
  }

  @Test
  void theSameFileGivesTheSameKeysAndOneMoreLoadLeavesTheOthersAlone() {
    String night =
        """
        - at temperatures: [23 degC, 50 degC, 23 degC]
          do:
            - in ranges: all
              do:
                - zero
                - over loads: {resistance: [0 ohm, %s10 kohm]}
                - measure
                - measure
        """;
    List<String> before = keys(night.formatted(""));
    assertEquals(before, keys(night.formatted("")));
    List<String> after = keys(night.formatted("4.7 kohm, "));
    assertTrue(after.containsAll(before));
    assertEquals(before.size() + 2 * 2 * 3, after.size());
  }

  @Test
  void aStayThatIsRepeatedHasAPathOfItsOwn() {
    Plan plan =
        plan("- at temperatures: [23 degC, 50 degC, 23 degC]\n  do: {in ranges: 1mA, do: measure}");
    assertEquals(List.of("23 degC/1mA", "50 degC/1mA", "23 degC #2/1mA"), keys(plan));
    assertEquals(List.of(23.0, 50.0, 23.0), plan.stays());
    assertEquals(
        List.of(0, 0, 1), plan.points().stream().map(p -> p.conditions().visit()).toList());
  }

  @Test
  void whatIsDoneAgainInOneStayIsNumbered() {
    assertEquals(
        List.of("1mA", "1mA #2", "1mA/zero", "1mA #3"),
        keys("- in ranges: 1mA\n  do: [measure, measure, zero, measure]\n"));
  }

  @Test
  void slotsAreLeftOutWhereTheBenchHasNone() {
    assertEquals(List.of("1mA"), keys("- in slots: all\n  do: {in ranges: 1mA, do: measure}\n"));
  }

  @Test
  void rulesOfStepsGoInwardAndTheInnermostCounts() {
    Plan plan =
        SequenceExpansion.expand(
            Sample.file(
                """
                sequence: rules
                readings: {count: 5, line cycles: 1, voltage: 2}
                settle: {wait: 2 s}
                on failure: stop
                steps:
                  - in ranges: 100uA
                    settle: {within: 3 ppm}
                    readings: {until uncertainty below: 1 ppm}
                    do:
                      - measure
                      - measure: {count: 7, at most: 9}
                        on failure: skip
                """),
            Sample.DATASHEET,
            List.of());
    MeasuringRules outer = plan.points().get(0).rules();
    assertEquals(
        new MeasuringRules.ReadingRule(5, 1, Optional.of(1e-6), 50, 2, false), outer.readings());
    assertEquals(new MeasuringRules.SettleRule(2, Optional.of(3e-6), 60), outer.settle());
    assertEquals(MeasuringRules.OnFailure.STOP, outer.onFailure());
    MeasuringRules inner = plan.points().get(1).rules();
    assertEquals(
        new MeasuringRules.ReadingRule(7, 1, Optional.of(1e-6), 9, 2, false), inner.readings());
    assertEquals(MeasuringRules.OnFailure.SKIP, inner.onFailure());
  }

  @Test
  void whatIsDoneWhileItSoaksComesBeforeTheRestOfItsStay() {
    Plan plan =
        plan(
            """
            - at temperatures: [5 degC, 23 degC]
              while it soaks: {in ranges: 1mA, do: [zero, find the knee]}
              do: {in ranges: 1mA, do: measure}
            """);
    assertEquals(
        List.of(
            "5 degC/while it soaks/1mA/zero",
            "5 degC/while it soaks/1mA/knee",
            "5 degC/1mA",
            "23 degC/while it soaks/1mA/zero",
            "23 degC/while it soaks/1mA/knee",
            "23 degC/1mA"),
        plan.points().stream().map(PlannedPoint::key).toList());
    assertEquals(
        List.of(true, true, false, true, true, false),
        plan.points().stream().map(p -> p.temperature().orElseThrow().soaking()).toList());
    assertEquals(List.of(5.0, 23.0), plan.stays());
  }

  @Test
  void withoutAnyRuleTheDefaultsCount() {
    PlannedPoint point = plan("- in ranges: 1mA\n  do: measure\n").points().get(0);
    assertEquals(MeasuringRules.DEFAULT, point.rules());
  }

  /** Misplaced or impossible steps, each with the whole message. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          - measure | night.yaml:3:3: readings are asked for outside a range; expected 'in ranges: ...' around them.
          - in ranges: 10mA\\n  do: measure | night.yaml:3:14: the datasheet 'test kind' has no range '10mA'; expected '100uA' or '1mA'. Did you mean '1mA'?
          - in ranges: [1mA, 2A]\\n  do: measure | night.yaml:3:20: the datasheet 'test kind' has no range '2A'; expected '100uA' or '1mA'.
          - over loads: {voltage: 1 V} | night.yaml:3:3: loads by voltage stand outside a range; expected 'in ranges: ...' around them, which tells the current.
          - in ranges: 1mA\\n  do: {in ranges: 1mA, do: measure} | night.yaml:4:7: ranges stand inside ranges; expected one sweep of them.
          - in ranges: 1mA\\n  do: {over loads: {voltage: 1 V}, do: {at set currents: 1 mA, do: measure}} | night.yaml:4:40: set currents stand inside loads by voltage; expected set currents around the loads, since they decide the resistance.
          - in ranges: 1mA\\n  do: {at set currents: 0 A, do: {over loads: {voltage: 1 V}}} | night.yaml:4:34: loads by voltage at a set current of 0; expected loads by resistance there.
          - in ranges: 1mA\\n  do: {over loads: {resistance: 1 ohm}, do: find the knee} | night.yaml:4:45: the search for the knee stands inside loads; expected it outside: it sets the loads.
          - at temperatures: 5 degC\\n  while it soaks: {in ranges: 1mA, do: measure}\\n  do: {in ranges: 1mA, do: measure} | night.yaml:4:40: the current is measured while it soaks, when it still moves; expected 'zero', 'find the knee', 'known resistor' or 'check standard' there, and this under 'do'.
          - in ranges: 1mA\\n  do: trial lap | night.yaml:4:7: the trial lap stands inside ranges or loads; expected it outside, since it goes through all of them by itself.
          - in ranges: 1mA\\n  do: known resistor | night.yaml:4:7: a known resistor is asked for without one; expected 'over loads: {resistance: ...}' around it, with values above 0 ohm.
          - in slots: A\\n  do: {in ranges: 1mA, do: measure} | night.yaml:3:13: slot 'A' is not filled; expected none, since the bench has none.
          - {in ranges: 1mA, readings: {count: 10}, do: {measure: {at most: 5}}} | night.yaml:3:47: 10 readings, at most 5; expected 1 or more, and no fewer at most.
          """)
  void whatCannotStandThereIsRefusedAtItsPlace(String steps, String message) {
    assertEquals(message, refused(steps.replace("\\n", "\n")));
  }

  @Test
  void unitsInSlotsAreNotMeasuredWithoutNamingTheSlot() {
    SequenceFile sequence = Sample.steps("- in ranges: 1mA\n  do: measure\n");
    String message =
        assertThrows(
                BadInputException.class,
                () ->
                    SequenceExpansion.expand(sequence, Sample.DATASHEET, List.of("left", "right")))
            .getMessage();
    assertEquals(
        "night.yaml:4:7: readings are asked for outside a slot, and units sit in 2 slots; expected"
            + " 'in slots: all' around them.",
        message);
  }

  @Test
  void aShareOfAComplianceThatIsNotPromisedIsRefusedOnce() {
    SequenceFile sequence =
        Sample.steps(
            """
            - at temperatures: [23 degC, 50 degC]
              do:
                - in ranges: all
                  do:
                    - over loads: {share of compliance: {from: 0 %, to: 90 %, points: 10}}
            """);
    BadInputException e =
        assertThrows(
            BadInputException.class,
            () -> SequenceExpansion.expand(sequence, Sample.BARE, List.of()));
    assertEquals(
        "night.yaml:7:11: loads are a share of the compliance voltage, which the datasheet does not"
            + " promise; expected 'compliance: {voltage: ...}' in the datasheet.",
        e.getMessage());
  }

  @Test
  void everyFaultIsFoundNotOnlyTheFirst() {
    assertEquals(
        3, refused("- measure\n- zero\n- in ranges: nano\n  do: measure\n").lines().count());
  }

  @Test
  void aSequenceOfTooManyPointsIsRefusedBeforeItFillsTheMemory() {
    String many = "{from: 1 ohm, to: 100 kohm, points: 100000}";
    String supplies = "{from: 1 V, to: 100 V, points: 100000}";
    String message =
        refused(
            "- in ranges: 1mA\n  do: {at supply voltages: %s, do: {over loads: {resistance: %s}}}\n"
                .formatted(supplies, many));
    assertTrue(
        message.contains("the sequence comes to more than 200000 points; expected fewer."),
        message);
  }

  @Test
  void faultsWithoutEndStopTheExpansionToo() {
    String many = "{from: 1 V, to: 100 V, points: 100000}";
    String message =
        refused(
            "- at supply voltages: %s\n  do: {at set currents: {from: 1 mA, to: 2 mA, points: 100000}, do: measure}\n"
                .formatted(many));
    assertTrue(message.contains("outside a range"), message);
  }

  @Test
  void aValueOfAPartThatTheDatasheetLacksIsRefused() {
    String message =
        refused("- ask: How much is it?\n  answer: {quantity: current, of: 1ma, u: 20 ppm}");
    assertTrue(message.contains("the datasheet 'test kind' has no current of '1ma'"), message);
    assertTrue(message.contains("'1mA'"), message);
    assertTrue(
        refused("- ask: How much is it?\n  answer: {quantity: resistance, of: R2, u: 20 ppm}")
            .contains("a part that the datasheet names"));
  }

  @Test
  void anAnswerSaysHowWellItIsKnown() {
    String none = "- ask: How much?\n  answer: {quantity: current, of: 1mA, u: 0 ppm}";
    assertTrue(refused(none).contains("u is '0 ppm'"), refused(none));
    String other = "- ask: How much?\n  answer: {quantity: current, of: 1mA, u: 2 mV}";
    assertTrue(refused(other).contains("night.yaml:4:45"), refused(other));
  }
}
