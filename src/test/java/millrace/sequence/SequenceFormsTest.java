// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import static millrace.sequence.Sample.refusedFile;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.EnumSet;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Stream;
import millrace.evidence.ResultQuantity;
import millrace.evidence.part.AskedPartValue;
import millrace.evidence.part.PartQuantity;
import millrace.fault.BadInputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class SequenceFormsTest {
  static Stream<Arguments> tasks() {
    return Stream.of(
        Arguments.of("measure", new Task.Measure()),
        Arguments.of("measure: {count: 3}", new Task.Measure()),
        Arguments.of("zero", new Task.Zero()),
        Arguments.of("zero: {count: 20}", new Task.Zero()),
        Arguments.of("check standard: hundred", new Task.CheckStandard("hundred")),
        Arguments.of("find the knee", new Task.FindKnee(0.05, 1.3)),
        Arguments.of("find the knee: {to: 20 mV, up to: 120 %}", new Task.FindKnee(0.02, 1.2)),
        Arguments.of(
            "watch: {for: 1 h}", new Task.Watch(Optional.of(3600.0), 0, false, Optional.empty())),
        Arguments.of(
            "watch: {for: 1 h 30 min, every: 2 s}",
            new Task.Watch(Optional.of(5400.0), 2, false, Optional.empty())),
        Arguments.of(
            "watch from power-on: {for: 1 h}",
            new Task.Watch(Optional.of(3600.0), 0, true, Optional.empty())),
        Arguments.of(
            "watch: {if it ends within: 8 h}",
            new Task.Watch(Optional.empty(), 0, false, Optional.of(28800.0))),
        Arguments.of("source off", new Task.SourceOff()),
        Arguments.of("known resistor", new Task.KnownResistor(1e-3)),
        Arguments.of("known resistor: {within: 200 ppm}", new Task.KnownResistor(2e-4)),
        Arguments.of("trial lap", new Task.TrialLap(false)),
        Arguments.of("{trial lap: {ask about slots: yes}}", new Task.TrialLap(true)),
        Arguments.of(
            "ask: Is the lid closed?", new Task.Ask("Is the lid closed?", Optional.empty())),
        Arguments.of(
            "{ask: How much is R2?, answer: {quantity: resistance, of: R2, u: 20 ppm}}",
            new Task.Ask(
                "How much is R2?",
                Optional.of(
                    new AskedPartValue(
                        PartQuantity.RESISTANCE, "R2", 20e-6, 0, OptionalDouble.empty())))),
        Arguments.of(
            "{ask: How much is 1mA?, answer: "
                + "{quantity: current, of: 1mA, u: 30 nA, terminal voltage: 8 V}}",
            new Task.Ask(
                "How much is 1mA?",
                Optional.of(
                    new AskedPartValue(
                        PartQuantity.CURRENT, "1mA", 0, 30e-9, OptionalDouble.of(8))))),
        Arguments.of("wait: 5 min", new Task.Wait(300)));
  }

  @ParameterizedTest
  @MethodSource("tasks")
  void everyTaskIsWrittenAsAWordOrAsAMap(String text, Task task) {
    Step step = Sample.steps("- " + text + "\n").steps().get(0);
    assertEquals(task, ((Step.Do) step).task());
  }

  @Test
  void noKindOfTaskIsWithoutWords() {
    Set<Class<?>> written = new HashSet<>();
    tasks().forEach(a -> written.add(a.get()[1].getClass()));
    assertEquals(Set.of(Task.class.getPermittedSubclasses()), written);
  }

  @Test
  void noKindOfSweepIsWithoutWords() {
    Set<Class<?>> written = new HashSet<>();
    for (String sweep :
        List.of(
            "at temperatures: 23 degC",
            "in ranges: all",
            "in slots: all",
            "over loads: {voltage: 1 V}",
            "at supply voltages: 12 V",
            "at set currents: 1 mA")) {
      Step step = Sample.steps("- " + sweep + "\n  do: measure\n").steps().get(0);
      written.add(((Step.Sweep) step).over().getClass());
    }
    assertEquals(Set.of(SweepVariable.class.getPermittedSubclasses()), written);
  }

  @Test
  void aTemperatureHasARampAndASoakRule() {
    Step step =
        Sample.steps(
                """
                - at temperatures: [-10 degC, 23 degC]
                  ramp: 2 K/min
                  soak: {within: 1 ppm, at least: 20 min, at most: 2 h, if it takes longer: stop, unit within: 0.5 K,
                         look every: 1 min}
                  do: {in ranges: all, do: measure}
                """)
            .steps()
            .get(0);
    assertEquals(
        new SweepVariable.Temperatures(
            List.of(-10.0, 23.0),
            Optional.of(2.0 / 60),
            new MeasuringRules.SoakRule(1e-6, 1200, 7200, MeasuringRules.OnFailure.STOP, 60, 0.5),
            List.of()),
        ((Step.Sweep) step).over());
  }

  @Test
  void aLongLeastSoakMovesTheUsualBound() {
    Step step =
        Sample.steps("- {at temperatures: 23 degC, soak: {at least: 5 h}, do: zero}\n")
            .steps()
            .get(0);
    SweepVariable.Temperatures over = (SweepVariable.Temperatures) ((Step.Sweep) step).over();
    assertEquals(5 * 3600, over.soak().mostS());
  }

  @Test
  void resultsAreNamedOrAll() {
    assertEquals(
        EnumSet.of(ResultQuantity.TEMPCO, ResultQuantity.CURRENT_ERROR),
        Sample.file("{sequence: s, compute: [tempco, current_error], steps: [trial lap]}")
            .compute());
    assertEquals(
        Set.of(), Sample.file("{sequence: s, compute: all, steps: [trial lap]}").compute());
  }

  /** What is refused, with the whole message. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '\u0000',
      textBlock =
          """
          steps: [zero] | night.yaml:1:1: the key 'sequence' is missing; expected a title. Add 'sequence: ...' (what it is called).
          sequence: s | night.yaml:1:1: the key 'steps' is missing; expected a list, each 'measure', 'zero', 'trial lap', 'source off', 'find the knee' or 'known resistor', or a step. Add 'steps: ...' (what is done, in order).
          {sequence: s, steps: []} | night.yaml:1:22: a list of 0; expected a list of at least 1.
          {sequence: s, stesp: [zero], steps: [zero]} | night.yaml:1:15: unknown key 'stesp' in a sequence; expected 'sequence', 'about', 'compute', 'first fail', 'self-check', 'early end', 'adaptive', 'readings', 'settle', 'on failure' or 'steps'. Did you mean 'steps'?
          {sequence: s, steps: [mesure]} | night.yaml:1:23: 'mesure' is not known here; expected 'measure', 'zero', 'trial lap', 'source off', 'find the knee' or 'known resistor'. Did you mean 'measure'?
          {sequence: s, steps: [{in range: 1mA, do: zero}]} | night.yaml:1:23: a map with 'in range:' says nothing of what it is; expected a step: one with the key 'at temperatures', 'in ranges', 'in slots', ... or 'part'. Did you mean 'in ranges'?
          {sequence: s, steps: [{over loads: {resistance: -5 ohm}}]} | night.yaml:1:49: '-5 ohm' is out of range; expected a resistance of 0 or more, as in '4.7 kohm'.
          {sequence: s, steps: [{over loads: {resistance: [4,7 kohm]}}]} | night.yaml:1:51: '4' has no unit; expected a resistance, as in '4.7 kohm'. Write the unit behind the number.
          {sequence: s, steps: [{over loads: {resistance: '4,7 kohm'}}]} | night.yaml:1:50: '4,7 kohm' has a decimal comma; expected a point, as in '4.7 kohm'.
          {sequence: s, steps: [{over loads: {voltage: {from: 0 V, to: 9 V}}}]} | night.yaml:1:46: the key 'points' is missing; expected a whole number from 2 to 100000. Add 'points: ...' (how many, ends included).
          {sequence: s, steps: [{over loads: {voltage: {from: 0 V, to: 9 V, points: 3, spacing: logarithmic}}}]} | night.yaml:1:46: logarithmic spacing from or to 0; expected both ends above 0. Add the 0 in a step of its own.
          {sequence: s, steps: [{at temperatures: 23 K, do: zero}]} | night.yaml:1:44: '23 K' is a temperature difference; expected a temperature, as in '-10 degC'. A temperature is written in degC, only a difference in K.
          {sequence: s, steps: [{at temperatures: 23 degC, ramp: -2 K/min, do: zero}]} | night.yaml:1:56: '-2 K/min' is out of range; expected a rate above 0, as in '2 K/min'.
          {sequence: s, steps: [{at temperatures: 23 degC, soak: {at least: 2 h, at most: 1 h}, do: zero}]} | night.yaml:1:56: a soak of at least 2 h and at most 1 h; expected the first not above the second.
          {sequence: s, steps: [{at temperatures: 23 degC}]} | night.yaml:1:23: the key 'do' is missing; expected a list, each 'measure', 'zero', 'trial lap', 'source off', 'find the knee' or 'known resistor', or a step. Add 'do: ...' (what is done at each).
          {sequence: s, readings: {count: 0}, steps: [zero]} | night.yaml:1:33: '0' is out of range; expected a whole number from 1 to 1000000.
          {sequence: s, readings: {count: 5, at most: 3}, steps: [zero]} | night.yaml:1:25: at least 5 readings and at most 3; expected the first not above the second.
          {sequence: s, settle: {wait: -1 s}, steps: [zero]} | night.yaml:1:30: '-1 s' is out of range; expected a time span of 0 s or more.
          {sequence: s, steps: [{wait: 0 s}]} | night.yaml:1:30: '0 s' is out of range; expected a time span above 0 s.
          {sequence: s, compute: tempo, steps: [zero]} | night.yaml:1:24: 'tempo' is not known here; expected 'all', 'current', 'current_error', ... or 'offset_error'. Did you mean 'tempco'?
          """)
  void whatIsWrongIsSaidWithItsPlace(String text, String message) {
    String said = refusedFile(text);
    String[] ends = message.split(" \\.\\.\\. ", 2); // a list that grows with the house
    assertTrue(said.startsWith(ends[0]) && said.endsWith(ends[ends.length - 1]), said);
    assertTrue(ends.length > 1 || said.equals(message), said);
  }

  @Test
  void aDecimalCommaThatEndsAValueIsExplained() {
    String first =
        refusedFile("{sequence: s, steps: [{over loads: {resistance: 4,7 kohm}}]}")
            .lines()
            .findFirst()
            .orElseThrow();
    assertEquals(
        "night.yaml:1:51: unknown key '7 kohm' in loads by resistance; expected 'resistance'. A"
            + " comma ends a value here: write decimals with a point, as in 4.7.",
        first);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "a: &x [1]\nb: *x\n",
        "sequence: !!javax.script.ScriptEngineManager []\n",
        "sequence: s\nsteps: !steps [zero]\n",
        "sequence: s\n---\nsequence: t\n",
        "[]",
        "zero",
        "\u0001",
        "sequence: \"\\0\"\nsteps: 3",
      })
  void hostileYamlIsRefused(String text) {
    assertTrue(refusedFile(text).startsWith("night.yaml"));
  }

  @Test
  void deepNestingOfStepsIsRefusedNotSuffered() {
    StringBuilder text = new StringBuilder("{sequence: s, steps: ");
    text.append("[{in slots: all, do: ".repeat(10_000));
    assertTrue(refusedFile(text.toString()).contains("values nest too deeply"));
  }

  @Test
  void aHugeFileIsRefused() {
    String text = "sequence: s\nsteps:\n" + "- zero\n".repeat(200_000);
    assertTrue(refusedFile(text).contains("expected at most 1000000"), "by its size");
    String shorter = "sequence: s\nsteps: [" + "1,".repeat(150_000) + "1]";
    assertTrue(refusedFile(shorter).contains("too many values"));
  }

  @Test
  void aPartIsPutInRelativeToTheFileThatNamesIt() {
    SequenceFile whole =
        Sample.files(
            Map.of(
                "nights/long.yaml", "{sequence: l, steps: [{part: parts/a.yaml}]}",
                "nights/parts/a.yaml", "{sequence: a, steps: [{part: b.yaml}, trial lap]}",
                "nights/parts/b.yaml", "{sequence: b, steps: [{wait: 1 s}]}"),
            "nights/long.yaml");
    Plan plan = SequenceExpansion.expand(whole, Sample.DATASHEET, List.of());
    assertEquals(
        List.of(new Task.Wait(1), new Task.TrialLap(false)),
        plan.points().stream().map(Plan.PlannedPoint::task).toList());
    assertEquals("nights/parts/b.yaml:1:23", plan.points().get(0).place().toString());
  }

  @Test
  void whatIsSaidWhereAPartIsNamedCountsMoreThanItsHead() {
    Map<String, String> files =
        Map.of(
            "a.yaml",
            """
            sequence: a
            readings: {count: 3, line cycles: 2}
            steps:
              - part: b.yaml
              - {part: b.yaml, readings: {count: 9}}
            """,
            "b.yaml",
            """
            sequence: b
            readings: {count: 5}
            steps: [{in ranges: 1mA, do: measure}]
            """);
    Plan plan =
        SequenceExpansion.expand(Sample.files(files, "a.yaml"), Sample.DATASHEET, List.of());
    assertEquals(
        List.of(5, 9), plan.points().stream().map(p -> p.rules().readings().count()).toList());
    assertEquals(2, plan.points().get(1).rules().readings().lineCycles());
  }

  @Test
  void aPartThatIncludesItselfIsRefusedWithTheChain() {
    Map<String, String> files =
        Map.of(
            "a.yaml", "{sequence: a, steps: [{part: b.yaml}]}",
            "b.yaml", "{sequence: b, steps: [{in ranges: all, do: [{part: ./a.yaml}]}]}");
    String message =
        assertThrows(BadInputException.class, () -> Sample.files(files, "a.yaml")).getMessage();
    assertEquals(
        "b.yaml:1:45: a part includes itself: a.yaml -> b.yaml -> a.yaml; expected parts that end."
            + " Take one of these parts out.",
        message);
  }

  @Test
  void aPartThatIsNotThereIsNamedWhereItIsAskedFor() {
    assertEquals(
        "night.yaml:1:23: the part 'gone.yaml': there is no such file; expected a file.",
        refusedFile("{sequence: a, steps: [{part: gone.yaml}]}"));
    assertEquals(
        "night.yaml:1:23: 'a\\u0000b' can be no file; expected the path of a file.",
        refusedFile("{sequence: a, steps: [{part: \"a\\0b\"}]}"));
  }

  @Test
  void partsThatMultiplyAreRefused() {
    Map<String, String> files = new java.util.HashMap<>();
    for (int i = 0; i < 12; i++) {
      files.put(
          i + ".yaml",
          "{sequence: p, steps: [%s zero]}"
              .formatted(("{part: " + (i + 1) + ".yaml}, ").repeat(10)));
    }
    files.put("12.yaml", "{sequence: p, steps: [zero]}");
    String message =
        assertThrows(BadInputException.class, () -> Sample.files(files, "0.yaml")).getMessage();
    assertTrue(message.contains("more than 1000 parts are put in"), message);
  }

  @Test
  void everyFileThatWasReadIsHandedOut() {
    Map<String, String> files =
        Map.of(
            "a.yaml", "{sequence: a, steps: [{part: b.yaml}, {part: b.yaml}]}",
            "b.yaml", "{sequence: b, steps: [zero]}");
    var loaded =
        SequenceForms.read(
            java.nio.file.Path.of("a.yaml"),
            p -> files.get(p.toString()).getBytes(java.nio.charset.StandardCharsets.UTF_8));
    assertEquals(
        List.of("a.yaml", "b.yaml"),
        loaded.files().keySet().stream().map(Object::toString).toList());
  }
}
