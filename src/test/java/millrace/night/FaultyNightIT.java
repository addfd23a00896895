// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;
import java.util.stream.Stream;
import millrace.Impatient;
import millrace.bench.driver.Drivers;
import millrace.bench.role.BenchOperator;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.fault.MillraceException;
import millrace.logbook.Logbook;
import millrace.logbook.RunFilter;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.run.control.RunOutcome;
import millrace.run.control.StopRequest;
import millrace.sim.SimReceivedLine;
import millrace.sim.SimulatedBench;
import millrace.sim.fault.FaultPlan;
import millrace.sim.fault.SimFault;
import millrace.sim.fault.SimFault.AtQuestion;
import millrace.sim.fault.SimFault.Kind;
import millrace.terminal.Console;
import millrace.terminal.Consoles;
import millrace.terminal.Questions;
import millrace.time.Seeds;
import millrace.time.VirtualClock;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * A short run on a simulated bench on which things go wrong: it ends, by itself or resumed, the
 * bench is safe, and every number in the logbook is one that the meter gave under the conditions it
 * is filed under.
 */
@Timeout(180)
class FaultyNightIT {
  private static final String SEQUENCE =
      """
      sequence: a short run
      readings: {count: 3, line cycles: 1}
      settle: {wait: 100 ms}
      on failure: go on flagged
      steps:
        - in slots: all
          do:
            - in ranges: [1mA, 100uA]
              do:
                - zero
                - over loads: {share of compliance: {from: 0 %, to: 80 %, points: 4}}
                  sweep: up
      """;

  private static final int EXPECTED = 2 * (3 + 4 * 3);
  private static final int MOST_RESUMES = 5;

  /** Lines to the ammeter: complaints and settings in one; a zero; a reading with its events. */
  private static final int SETTINGS_TOGETHER = 7;

  private static final int AMONG_ZEROS = 12;
  private static final int LAST_OF_THREE = 22;

  /** Range, cycles and autozero once more, before the next range of the unit. */
  private static final int BEFORE_SET_ANEW = 32;

  private static final String ASKED_ANEW = "SENS:CURR:DC:RANG?;NPLC?;ZERO:AUTO?";

  @TempDir private Path folder;

  static Stream<Arguments> faults() {
    return Stream.of(Kind.values())
        .filter(kind -> !kind.befallsBench())
        .flatMap(
            kind ->
                Stream.of(
                    Arguments.of(kind, "ammeter", AMONG_ZEROS),
                    Arguments.of(kind, "ammeter", SETTINGS_TOGETHER),
                    Arguments.of(kind, "ammeter", LAST_OF_THREE),
                    Arguments.of(kind, "load", AMONG_ZEROS)));
  }

  @ParameterizedTest
  @MethodSource("faults")
  void oneFaultNeverBecomesAWrongNumber(Kind kind, String instrument, int question)
      throws IOException {
    FaultPlan plan = FaultPlan.of(SimFault.of(kind, instrument, new AtQuestion(question)));
    int found = night(plan);
    assertTrue(found >= EXPECTED - 3, "only " + found + " readings are in the logbook");
  }

  static Stream<Kind> faultsOfReplies() {
    return Stream.of(Kind.values()).filter(kind -> !kind.befallsBench());
  }

  /** A wrong reply to a question that only confirms spoils no point and accuses nobody. */
  @ParameterizedTest
  @MethodSource("faultsOfReplies")
  void aFaultWhereAMeterIsAskedBeforeItIsSetAnewAccusesNobody(Kind kind) throws IOException {
    List<String> heard = new ArrayList<>();
    int found =
        night(
            FaultPlan.of(SimFault.of(kind, "ammeter", new AtQuestion(BEFORE_SET_ANEW))),
            bench -> heard.addAll(linesTo(bench, "ammeter")));
    assertEquals(ASKED_ANEW, heard.get(BEFORE_SET_ANEW - 1));
    assertTrue(found >= EXPECTED, "only " + found + " readings are in the logbook");
    try (Logbook book = Logbook.openOrCreate(folder.resolve("night.db"))) {
      RunReader run = book.reader(1);
      assertEquals(
          List.of(),
          run.incidents().stream()
              .map(Incident::text)
              .filter(text -> text.contains("turned it at its panel"))
              .toList());
      assertEquals(
          List.of("100uA 200 uA 1", "1mA 2 mA 1"),
          run.points().stream()
              .filter(p -> p.state() == PointState.COMPLETE)
              .map(FaultyNightIT::told)
              .distinct()
              .sorted()
              .toList());
    }
  }

  private static List<String> linesTo(SimulatedBench bench, String instrument) {
    return bench.heard().stream()
        .filter(l -> l.instrument().equals(instrument))
        .map(SimReceivedLine::line)
        .toList();
  }

  /** The range of the unit; range and cycles of the current meter as it told them. */
  private static String told(Point point) {
    Map<String, String> words = point.settings().currentMeter().words();
    return String.join(
        " ", point.conditions().range().orElseThrow(), words.get("range"), words.get("cycles"));
  }

  /** The first point of each range: nothing is known of the meter's scatter before. */
  @ParameterizedTest
  @ValueSource(ints = {21, LAST_OF_THREE, 46})
  void aWildReadingAmongThreeIsAskedAgainAndKeptAsSuspect(int question) throws IOException {
    SimFault wild = SimFault.of(Kind.WILD_READING, "ammeter", new AtQuestion(question));
    int found = night(FaultPlan.of(wild));
    assertTrue(found > EXPECTED, "only " + found + " readings are in the logbook");
    try (Logbook book = Logbook.openOrCreate(folder.resolve("night.db"))) {
      RunReader run = book.reader(1);
      List<Reading> suspects =
          run.points().stream()
              .filter(p -> p.kind() == PointKind.MEASURE)
              .flatMap(p -> run.readings(p.id()).stream())
              .filter(r -> r.state() == ReadingState.SUSPECT)
              .toList();
      assertEquals(1, suspects.size(), suspects::toString);
      assertTrue(
          run.incidents().stream()
              .filter(i -> i.kind() == IncidentKind.FLAG)
              .anyMatch(i -> i.text().contains(suspects.get(0).raw())));
    }
  }

  /** One night; how many currents are in the logbook. */
  private int night(FaultPlan plan) throws IOException {
    return night(plan, bench -> {});
  }

  private int night(FaultPlan plan, Consumer<SimulatedBench> afterwards) throws IOException {
    VirtualClock clock = new VirtualClock(Instant.parse("2026-11-25T18:00:00Z"));
    SimulatedBench.Settings settings = SimulatedBench.Settings.demo(new Seeds(1)).with(plan);
    try (SimulatedBench bench = SimulatedBench.start(settings, clock);
        Logbook book = Logbook.openOrCreate(folder.resolve("night.db"))) {
      long run = finished(bench, clock, book);
      assertEquals(List.of(), bench.unsafe());
      assertEquals(List.of(), bench.mistreatments());
      afterwards.accept(bench);
      NightChecks checks = new NightChecks(book.reader(run), bench.given(), Set.of());
      return checks.nothingIsInvented(MeasuredSignal.CURRENT, "ammeter");
    }
  }

  /** Runs, and resumes what an instrument stopped. */
  private long finished(SimulatedBench bench, VirtualClock clock, Logbook book) throws IOException {
    RunInputs inputs = inputs();
    MillraceException last = null;
    for (int attempt = 0; attempt <= MOST_RESUMES; attempt++) {
      try (BenchSession setting = setting(bench, clock)) {
        Night night = new Night(inputs, setting, book, attendance());
        boolean begun = !book.runs(RunFilter.ALL).isEmpty();
        RunOutcome outcome =
            begun ? night.resume(book.reader(1), true) : night.begin(UnitUnderTest.of("FX3-00001"));
        assertEquals(0, outcome.toGo());
        return outcome.run();
      } catch (MillraceException e) {
        last = e;
        assertEquals(List.of(), bench.unsafe(), e.getMessage());
      }
    }
    throw new AssertionError("never finished: " + last.getMessage(), last);
  }

  private RunInputs inputs() throws IOException {
    Path sequence = folder.resolve("short.yaml");
    Files.writeString(sequence, SEQUENCE);
    return RunInputs.read(sequence, Path.of("examples", "fx-3.datasheet.yaml"));
  }

  private BenchSession setting(SimulatedBench bench, VirtualClock clock) throws IOException {
    String text = SimulatedBenchFile.text(SimulatedBenchFile.sockets(bench), List.of("1"));
    return BenchSession.ofFile(
        "bench.yaml",
        text.getBytes(StandardCharsets.UTF_8),
        Drivers.load(Impatient.drivers(folder)),
        clock,
        BenchOperator.NOBODY);
  }

  private static OperatorAttendance attendance() {
    Console nobody =
        Consoles.of(
            new ByteArrayInputStream(new byte[0]),
            new PrintStream(new ByteArrayOutputStream(), true, StandardCharsets.UTF_8),
            new PrintStream(new ByteArrayOutputStream(), true, StandardCharsets.UTF_8),
            false);
    return new OperatorAttendance(
        new RunStart.People(Optional.empty(), Optional.empty(), Optional.empty()),
        new Questions(nobody, true),
        List.of(),
        new StopRequest(run -> "Go on with: millrace run --resume " + run),
        List.of());
  }
}
