// SPDX-License-Identifier: Apache-2.0
package millrace.bench.hand;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Deque;
import java.util.List;
import java.util.OptionalDouble;
import millrace.bench.Bench;
import millrace.bench.Table;
import millrace.bench.driver.Drivers;
import millrace.bench.role.BenchOperator;
import millrace.bench.role.Load;
import millrace.bench.role.ManualTaskContext;
import millrace.bench.role.Meter;
import millrace.bench.role.MeterRange;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.fault.BadInputException;
import millrace.fault.InstrumentException;
import org.junit.jupiter.api.Test;

class ByHandTest {
  private final List<String> asked = new ArrayList<>();

  private BenchOperator answering(String... answers) {
    Deque<String> rest = new ArrayDeque<>(Arrays.asList(answers));
    return question -> {
      asked.add(question);
      return new BenchOperator.Answer(rest.pop(), "Ada");
    };
  }

  private static Bench bench(BenchOperator person, String settings) {
    return new Table()
        .bench(
            """
            bench: kitchen table
            instruments:
              box: {driver: by hand, address: by hand, roles: {load: {}}}
              dmm: {driver: by hand, address: by hand, settings: {%s}, roles: {current meter: {}}}
            """
                .formatted(settings),
            Drivers.load(Path.of("drivers")),
            person);
  }

  @Test
  void aPersonTurnsTheBoxAndTypesWhatTheMeterShows() {
    Bench bench = bench(answering("", "", "", "1.0002 mA"), "ranges: '1 mA, 10 mA'");
    bench.in(RoleName.LOAD, Load.class).orElseThrow().set(4700);
    Meter meter = bench.in(RoleName.CURRENT_METER, Meter.class).orElseThrow();
    meter.prepare(meter.ranges().get(0), 10);
    assertEquals(new Reply.Number(1.0002e-3, "1.0002 mA (typed by Ada)"), meter.read());
    assertEquals(
        List.of(
            """
            At the current loop:
                1. Switch the source off. While it is on, its open-circuit voltage stands at its terminals.
                2. %s.
                3. Take your hands off, then switch the source on.
              Press Enter when it is done, or type 'no' if it cannot be done.\
            """
                .formatted("Set load 'box' to 4.7 kohm"),
            """
            At the current loop:
                1. Switch the source off. While it is on, its open-circuit voltage stands at its terminals.
                2. %s.
                3. Take your hands off, then switch the source on.
              Press Enter when it is done, or type 'no' if it cannot be done.\
            """
                .formatted("Set current meter 'dmm' to its range 1 mA"),
            "Set current meter 'dmm' to integrate over 10 line cycles, or the nearest that it has"
                + " (at its panel; touch no terminal). Press Enter when it is done, or type 'no' if"
                + " it cannot be done.",
            "What does current meter 'dmm' show? Type it with its unit, as in '100 uA'; 'overload'"
                + " and 'nothing' are answers too."),
        asked);
  }

  @Test
  void anAnswerThatCannotBeRightIsAskedAgainWithTheReason() {
    Bench bench = bench(answering("1,2 mA", "12 mA", "1.2", "1.1 mA"), "ranges: 1 mA");
    Meter meter = bench.in(RoleName.CURRENT_METER, Meter.class).orElseThrow();
    assertEquals(new Reply.Number(1.1e-3, "1.1 mA (typed by Ada)"), meter.read());
    assertTrue(asked.get(1).startsWith("that: '1,2 mA' has a decimal comma"), asked.get(1));
    assertTrue(asked.get(2).startsWith("'12 mA' is not within 1.25 mA of zero."), asked.get(2));
    assertTrue(asked.get(3).contains("has no unit"), asked.get(3));
  }

  /** A number in another unit, or in none that is known, is asked for again as other nonsense. */
  @Test
  void aUnitThatIsNotOneOfTheKindIsNeverTakenForOne() {
    BenchOperator person = answering("0.001 banana", "1e-3", "1 V", "1000 uA");
    Bench bench = bench(person, "ranges: 10 mA");
    Meter meter = bench.in(RoleName.CURRENT_METER, Meter.class).orElseThrow();
    assertEquals(new Reply.Number(1e-3, "1000 uA (typed by Ada)"), meter.read());
    assertTrue(asked.get(1).contains("has the unknown unit 'banana'"), asked.get(1));
    assertTrue(asked.get(2).contains("has no unit"), asked.get(2));
    assertTrue(asked.get(3).contains("is a voltage"), asked.get(3));
  }

  @Test
  void nonsenseTypedFiveTimesIsMalformedAndNeverANumber() {
    Bench bench = bench(answering("a", "b", "c", "d", "e"), "ranges: 1 mA");
    assertEquals(
        new Reply.Malformed("e (typed by Ada)"),
        bench.in(RoleName.CURRENT_METER, Meter.class).orElseThrow().read());
  }

  @Test
  void overloadAndNothingAreAnswers() {
    Bench bench = bench(answering("OL", "nothing"), "ranges: 1 mA");
    Meter meter = bench.in(RoleName.CURRENT_METER, Meter.class).orElseThrow();
    assertEquals(new Reply.Overload("OL (typed by Ada)"), meter.read());
    assertEquals(new Reply.NotANumber("nothing (typed by Ada)"), meter.read());
  }

  @Test
  void whatCannotBeDoneIsAnError() {
    Bench bench = bench(answering("no, it is stuck"), "");
    Load load = bench.in(RoleName.LOAD, Load.class).orElseThrow();
    assertEquals(
        "loop (by hand): Ada was asked: Set load 'box' to 100 ohm; answered 'no, it is"
            + " stuck'; expected that it is done.",
        assertThrows(InstrumentException.class, () -> load.set(100)).getMessage());
  }

  @Test
  void aBarCodeDoesNotSayThatSomethingIsDone() {
    Bench bench = bench(answering("FX3-00002", "1 mA", ""), "");
    bench.in(RoleName.LOAD, Load.class).orElseThrow().set(100);
    assertEquals(3, asked.size());
    assertEquals("'FX3-00002' is no answer to this. " + asked.get(0), asked.get(1));
  }

  @Test
  void whatOnlyPuzzlesIsNeverTakenForDone() {
    Bench bench = bench(answering("a", "b", "c", "d", "e"), "");
    Load load = bench.in(RoleName.LOAD, Load.class).orElseThrow();
    assertTrue(
        assertThrows(InstrumentException.class, () -> load.set(100))
            .getMessage()
            .contains("answered 'e'"));
  }

  @Test
  void whatIsSetAlreadyIsNotAskedForAgain() {
    Bench bench = bench(answering("", "", "1 mA", "1 mA"), "ranges: 1 mA");
    for (int i = 0; i < 2; i++) {
      Meter meter = bench.in(RoleName.CURRENT_METER, Meter.class).orElseThrow();
      meter.prepare(meter.ranges().get(0), 1);
      meter.read();
    }
    assertEquals(4, asked.size());
    assertTrue(asked.get(1).contains("to integrate over 1 line cycle, or"), asked.get(1));
  }

  /** A range of 10 A for a current of 1 uA would be nonsense. */
  @Test
  void aMeterThatNobodyDescribedIsSetToTheDecadeThatFits() {
    Bench bench = bench(answering("", "", "1.0002 uA"), "");
    Meter meter = bench.in(RoleName.CURRENT_METER, Meter.class).orElseThrow();
    meter.prepare(MeterRange.pick(meter.ranges(), 1e-6, 0.02).orElseThrow(), 1);
    assertTrue(asked.get(0).contains("'dmm' to its smallest range that takes 1 uA."), asked.get(0));
    assertEquals(new Reply.Number(1.0002e-6, "1.0002 uA (typed by Ada)"), meter.read());
  }

  @Test
  void whatIsGatheredIsOneTaskThatBeginsAndEndsWithTheSource() {
    Bench bench = bench(answering("", "0 A", ""), "ranges: 1 mA");
    ManualTaskContext place = bench.workplace();
    place.volts(OptionalDouble.of(110));
    place.at("Point 1 of 2", OptionalDouble.of(85));
    place.quiet();
    place.loop("Take off the lead");
    bench.in(RoleName.CURRENT_METER, Meter.class).orElseThrow().read();
    bench.in(RoleName.LOAD, Load.class).orElseThrow().set(0);
    place.on();
    assertEquals(
        """
        Point 1 of 2: Unit and chamber are at 85 degC: hot surfaces burn, so touch them with gloves only.
            1. Switch the source off. While it is on, up to 110 V DC stand at its terminals, which can injure or kill.
            2. Take off the lead.
            3. Leave the source off.
          Press Enter when it is done, or type 'no' if it cannot be done.\
        """,
        asked.get(0));
    assertTrue(asked.get(1).startsWith("Point 1 of 2: what does current meter"), asked.get(1));
    assertTrue(asked.get(2).contains("1. Make sure that the source is still off."), asked.get(2));
    assertTrue(asked.get(2).contains("3. Take your hands off, then switch the source on."));
  }

  @Test
  void aBenchIsMadeSafeByOneTaskWhateverIsOnIt() {
    Bench bench =
        new Table()
            .bench(
                """
                bench: kitchen table
                instruments:
                  volts: {driver: by hand, address: by hand, roles: {voltmeter: {}}}
                  oven: {driver: by hand, address: by hand, roles: {chamber: {}}}
                  box: {driver: by hand, address: by hand, roles: {load: {}}}
                  psu: {driver: by hand, address: by hand, roles: {supply: {}}}
                wiring: {voltmeter: across load}
                """,
                Drivers.load(Path.of("drivers")),
                answering("", ""));
    bench.workplace().volts(OptionalDouble.of(18));
    for (int times = 1; times <= 2; times++) {
      assertTrue(notEmpty(bench.makeSafe()).stream().allMatch(s -> s.trouble().isEmpty()));
      assertEquals(times, asked.size());
    }
    assertEquals(
        """
        Make the bench safe now. While the source is on, up to 18 V DC stand at its terminals.
            1. Switch the source off, at its own switch or at the mains, and do not touch its terminals or the leads before it is off.
            2. Switch chamber 'oven' off, and leave its door shut until it is near room temperature: surfaces in it can burn, or freeze to skin.
            3. Switch the output of supply 'psu' off, or pull its mains plug.
          Press Enter when it is done, or type 'no' if it cannot be done.\
        """,
        asked.get(0));
  }

  @Test
  void oneNoLeavesNothingSafeAndIsNotAskedTwice() {
    Bench bench = bench(answering("no"), "");
    assertTrue(notEmpty(bench.makeSafe()).stream().allMatch(s -> s.trouble().isPresent()));
    assertEquals(1, asked.size());
  }

  @Test
  void withoutAPersonItSaysSo() {
    Bench bench = bench(BenchOperator.NOBODY, "");
    Load load = bench.in(RoleName.LOAD, Load.class).orElseThrow();
    assertTrue(
        assertThrows(InstrumentException.class, () -> load.set(100))
            .getMessage()
            .startsWith("by hand: nobody is there to answer"));
  }

  @Test
  void aWrongSettingIsRefusedWithItsPlace() {
    assertEquals(
        "bench.yaml:4:8: 'dmm': driver 'by hand' knows no setting 'range'; expected one of ranges,"
            + " shorts, switches.",
        assertThrows(BadInputException.class, () -> bench(BenchOperator.NOBODY, "range: 1 mA"))
            .getMessage());
    assertEquals(
        "bench.yaml:4:8: 'dmm': ranges: '1' has no unit; expected a current, as in '100 uA'.",
        assertThrows(BadInputException.class, () -> bench(BenchOperator.NOBODY, "ranges: '1'"))
            .getMessage());
  }
}
