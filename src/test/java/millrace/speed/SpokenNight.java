// SPDX-License-Identifier: Apache-2.0
package millrace.speed;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import millrace.bench.driver.Drivers;
import millrace.bench.role.BenchOperator;
import millrace.bench.role.InstrumentDriver.Surroundings;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.Reading;
import millrace.link.LinkOpener;
import millrace.link.LinkRecorder;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.night.BenchSession;
import millrace.night.Night;
import millrace.night.OperatorAttendance;
import millrace.night.RunInputs;
import millrace.night.SimulatedBenchFile;
import millrace.night.SimulatedUnitFromDatasheet;
import millrace.night.UnitUnderTest;
import millrace.run.control.StopRequest;
import millrace.sim.SimReceivedLine;
import millrace.sim.SimulatedBench;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.time.Seeds;
import millrace.time.VirtualClock;

/**
 * All that was said in one night between the program and simulated instruments.
 *
 * @param trips in order
 * @param heard the lines that the instruments noted themselves, in order
 * @param readings how many are in the logbook
 * @param temperatures how many of them are temperatures
 * @param commits how often something was written into the logbook
 */
record SpokenNight(
    List<RoundTrip> trips,
    List<SimReceivedLine> heard,
    long readings,
    long temperatures,
    long commits) {
  private static final Path SHEET = Path.of("examples", "fx-3.datasheet.yaml");
  private static final Instant EVENING = Instant.parse("2026-11-25T18:00:00Z");
  private static final long SEED = 1;
  private static final Set<MeasuredSignal> TEMPERATURES =
      Set.of(
          MeasuredSignal.UNIT_TEMPERATURE,
          MeasuredSignal.CHAMBER_TEMPERATURE,
          MeasuredSignal.LAB_TEMPERATURE);

  /** What is sent until something comes back, and that. */
  static final class RoundTrip {
    private final StringBuilder sent = new StringBuilder();
    private final StringBuilder received = new StringBuilder();

    /** With the ends of lines. */
    String sent() {
      return sent.toString();
    }

    /** With the ends of lines. */
    String received() {
      return received.toString();
    }
  }

  /** Takes down what goes over the links. The run has one thread that speaks. */
  private static final class Trips implements LinkRecorder {
    private final List<RoundTrip> into;
    private RoundTrip now = new RoundTrip();

    Trips(List<RoundTrip> into) {
      this.into = into;
    }

    @Override
    public void sent(String bytes) {
      if (!now.received.isEmpty()) {
        now = new RoundTrip();
      }
      now.sent.append(bytes);
    }

    @Override
    public void received(String bytes) {
      if (now.received.isEmpty()) {
        into.add(now);
      }
      now.received.append(bytes);
    }
  }

  /** The night of a sequence on the bench and the unit of the demonstration. */
  static SpokenNight of(Path sequence, Path folder) throws IOException {
    VirtualClock clock = new VirtualClock(EVENING);
    List<RoundTrip> trips = new ArrayList<>();
    RunInputs inputs = RunInputs.read(sequence, SHEET);
    try (SimulatedBench bench = SimulatedBench.start(settings(inputs), clock);
        Logbook book = Logbook.openOrCreate(Files.createDirectories(folder).resolve("spoken.db"));
        BenchSession session =
            BenchSession.ofFile(
                "simulated-bench.yaml",
                SimulatedBenchFile.text(SimulatedBenchFile.sockets(bench), List.of("1"))
                    .getBytes(UTF_8),
                Drivers.load(Path.of("drivers")),
                new Surroundings(clock, BenchOperator.NOBODY),
                new BenchSession.Links(LinkOpener.recording(address -> new Trips(trips)), false))) {
      long run =
          new Night(inputs, session, book, attendance()).begin(UnitUnderTest.of("FX3-00001")).run();
      return counted(book.reader(run), trips, bench.heard());
    }
  }

  private static SimulatedBench.Settings settings(RunInputs inputs) {
    return SimulatedBench.Settings.drawn(
        SimulatedBenchSpec.demo(),
        Map.of("1", SimulatedUnitFromDatasheet.of(inputs.datasheet())),
        new Seeds(SEED));
  }

  private static OperatorAttendance attendance() {
    return new OperatorAttendance(
        new RunStart.People(Optional.empty(), Optional.empty(), Optional.empty()),
        question -> "yes",
        List.of(),
        new StopRequest(run -> ""),
        List.of());
  }

  private static SpokenNight counted(
      RunReader reader, List<RoundTrip> trips, List<SimReceivedLine> heard) {
    long readings = 0;
    long temperatures = 0;
    long commits = 0;
    for (Point point : reader.points()) {
      boolean appended = point.kind() == PointKind.SOAK;
      commits++;
      for (Reading each : reader.readings(point.id())) {
        readings++;
        temperatures += TEMPERATURES.contains(each.signal()) ? 1 : 0;
        // A soak is written look by look.
        commits += appended && each.signal() == MeasuredSignal.UNIT_TEMPERATURE ? 1 : 0;
      }
    }
    return new SpokenNight(List.copyOf(trips), heard, readings, temperatures, commits);
  }
}
