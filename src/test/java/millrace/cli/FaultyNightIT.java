package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.Iterator;
import java.util.List;
import java.util.Optional;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import millrace.bench.driver.Drivers;
import millrace.bench.role.Person;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.evidence.Signal;
import millrace.fault.MillraceException;
import millrace.logbook.Logbook;
import millrace.logbook.RunFilter;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.run.RunOutcome;
import millrace.run.StopRequest;
import millrace.sim.FaultPlan;
import millrace.sim.SimFault;
import millrace.sim.SimFault.AtQuestion;
import millrace.sim.SimFault.Kind;
import millrace.sim.SimulatedBench;
import millrace.time.Seeds;
import millrace.time.VirtualClock;
import org.junit.jupiter.api.Tag;
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

  @TempDir private Path folder;

  /** A wild reading can only be told from its neighbours, which is another matter. */
  private static List<Kind> kinds() {
    return Stream.of(Kind.values()).filter(kind -> kind != Kind.WILD_READING).toList();
  }

  static Stream<Arguments> faults() {
    return kinds().stream()
        .filter(kind -> !kind.befallsBench())
        .flatMap(
            kind -> Stream.of("ammeter", "load").map(instrument -> Arguments.of(kind, instrument)));
  }

  @ParameterizedTest
  @MethodSource("faults")
  void oneFaultNeverBecomesAWrongNumber(Kind kind, String instrument) throws IOException {
    FaultPlan plan = FaultPlan.of(SimFault.of(kind, instrument, new AtQuestion(12)));
    int found = night(plan, new Seeds(1));
    boolean flagged = kind == Kind.ERROR_QUEUE;
    assertTrue(flagged || found >= EXPECTED - 3, "only " + found + " readings are in the logbook");
  }

  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3, 4, 5, 6})
  void aNightOfDrawnFaultsEndsSafe(long seed) throws IOException {
    night(seed);
  }

  @Tag("campaign")
  @ParameterizedTest
  @MethodSource("manySeeds")
  void everyNightOfDrawnFaultsEndsSafe(long seed) throws IOException {
    night(seed);
  }

  static LongStream manySeeds() {
    return LongStream.rangeClosed(101, 300);
  }

  private void night(long seed) throws IOException {
    FaultPlan.Lot lot = new FaultPlan.Lot(4, Duration.ofSeconds(30), kinds());
    night(FaultPlan.drawn(lot, new Seeds(seed)), new Seeds(seed));
  }

  /** One night; how many currents are in the logbook. */
  private int night(FaultPlan plan, Seeds seeds) throws IOException {
    VirtualClock clock = new VirtualClock(Instant.parse("2026-11-25T18:00:00Z"));
    SimulatedBench.Settings settings = SimulatedBench.Settings.demo(seeds).with(plan);
    try (SimulatedBench bench = SimulatedBench.start(settings, clock);
        Logbook book = Logbook.openOrCreate(folder.resolve("night.db"))) {
      long run = finished(bench, clock, book);
      assertEquals(List.of(), bench.unsafe());
      assertEquals(List.of(), bench.mishaps());
      return filedRight(book.reader(run), bench.given());
    }
  }

  /** Runs, and resumes what an instrument stopped. */
  private long finished(SimulatedBench bench, VirtualClock clock, Logbook book) throws IOException {
    RunInputs inputs = inputs();
    MillraceException last = null;
    for (int attempt = 0; attempt <= MOST_RESUMES; attempt++) {
      try (BenchSetting setting = setting(bench, clock)) {
        Night night = new Night(inputs, setting, book, attendance());
        boolean begun = !book.runs(RunFilter.ALL).isEmpty();
        RunOutcome outcome =
            begun ? night.resume(book.reader(1), true) : night.begin(Night.Order.of("FX3-00001"));
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

  private BenchSetting setting(SimulatedBench bench, VirtualClock clock) throws IOException {
    String text = SimulatedBenchFile.text(SimulatedBenchFile.sockets(bench), List.of("1"));
    return BenchSetting.ofFile(
        "bench.yaml",
        text.getBytes(StandardCharsets.UTF_8),
        Drivers.load(impatient()),
        clock,
        Person.NOBODY);
  }

  /** The shipped drivers, waiting no longer than a second for any reply. */
  private Path impatient() throws IOException {
    Path drivers = Files.createDirectories(folder.resolve("drivers"));
    try (Stream<Path> all = Files.list(Path.of("drivers"))) {
      for (Path each : all.filter(p -> p.toString().endsWith(".yaml")).toList()) {
        String text = Files.readString(each).replaceAll("(?m)^reply within:.*\n", "");
        String patched = text.replaceFirst("(?m)^driver:.*\n", "$0reply within: 1 s\n");
        Files.writeString(drivers.resolve(each.getFileName()), patched);
      }
    }
    return drivers;
  }

  private static Night.Attendance attendance() {
    Console nobody =
        new Console(
            new ByteArrayInputStream(new byte[0]),
            new PrintStream(new ByteArrayOutputStream(), true, StandardCharsets.UTF_8),
            new PrintStream(new ByteArrayOutputStream(), true, StandardCharsets.UTF_8),
            false);
    return new Night.Attendance(
        new RunStart.People(Optional.empty(), Optional.empty(), Optional.empty()),
        new Questions(nobody, true),
        List.of(),
        new StopRequest(),
        List.of());
  }

  /**
   * Walks the logbook beside what the meter gave: the same replies in the same order under the same
   * conditions; what was given and thrown away with its point is passed over.
   */
  private static int filedRight(RunReader reader, List<SimulatedBench.Given> given) {
    Iterator<SimulatedBench.Given> rest =
        given.stream().filter(g -> g.instrument().equals("ammeter")).iterator();
    int found = 0;
    for (Point point : reader.points()) {
      for (Reading reading : reader.readings(point.id())) {
        boolean number = reading.state() == ReadingState.NUMBER;
        if (number && reading.signal() == Signal.CURRENT) {
          pass(rest, point, reading);
          found++;
        }
      }
    }
    return found;
  }

  private static void pass(Iterator<SimulatedBench.Given> rest, Point point, Reading reading) {
    while (rest.hasNext()) {
      SimulatedBench.Given given = rest.next();
      if (given.reply().equals(reading.raw()) && isOf(point, given)) {
        return;
      }
    }
    throw new AssertionError(
        "the meter did not give " + reading.raw() + " under the conditions of " + point);
  }

  private static boolean isOf(Point point, SimulatedBench.Given given) {
    if (point.kind() != PointKind.MEASURE) {
      return true;
    }
    double ohm = point.conditions().loadOhm().orElseThrow();
    return given.range().equals(point.conditions().range())
        && Math.abs(ohm - given.loadOhm()) <= 0.03 + 300e-6 * ohm;
  }
}
