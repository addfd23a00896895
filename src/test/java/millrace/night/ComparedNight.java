// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.series.SoakStudy;
import millrace.bench.driver.Drivers;
import millrace.bench.role.BenchOperator;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.run.control.RunObserver;
import millrace.run.control.StopRequest;
import millrace.sequence.Plan;
import millrace.sequence.Schedule;
import millrace.sequence.UsualBenchSpeeds;
import millrace.sim.SimMeterReply;
import millrace.sim.SimulatedBench;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.sim.truth.SimulatedUnit;
import millrace.sim.truth.SimulatedUnitSpec;
import millrace.time.Seeds;
import millrace.time.VirtualClock;

/**
 * A night of the fixed comparison of bench time, run in virtual time on a simulated bench whose
 * truth is known: chamber with 2 K/min, 3 K of overshoot and air of 4 min, units that lag by 12
 * min, with 2 ppm/K and 1 ppm of noise a reading.
 */
final class ComparedNight implements AutoCloseable {
  private static final Instant EVENING = Instant.parse("2026-11-25T18:00:00Z");

  private final SimulatedBench bench;
  private final VirtualClock clock = new VirtualClock(EVENING);
  private final Logbook logbook;
  private final RunInputs inputs;
  private final List<String> slots;
  private final List<Long> runs = new ArrayList<>();
  private final List<RunObserver> observers = new ArrayList<>();

  private ComparedNight(Path folder, Path sequence, List<String> slots, long seed)
      throws IOException {
    this.slots = slots;
    Map<String, SimulatedUnitSpec> kinds = new LinkedHashMap<>();
    slots.forEach(s -> kinds.put(s, SimulatedUnitSpec.comparison()));
    SimulatedBenchSpec spec =
        SimulatedBenchSpec.demo().with(SimulatedBenchSpec.ChamberSpec.comparison());
    bench =
        SimulatedBench.start(SimulatedBench.Settings.drawn(spec, kinds, new Seeds(seed)), clock);
    logbook = Logbook.openOrCreate(folder.resolve("night-" + slots.size() + "-" + seed + ".db"));
    inputs = RunInputs.read(sequence, datasheet(folder));
  }

  private static Path datasheet(Path folder) throws IOException {
    String text = Files.readString(Path.of("examples", "fx-3.datasheet.yaml"));
    return Files.writeString(
        folder.resolve("compared.datasheet.yaml"),
        text.replace("thermal time constant: 8 min", "thermal time constant: 12 min"));
  }

  /** The shipped sequence as it is, its ranges perhaps fewer. */
  static Path shipped(Path folder, String ranges) throws IOException {
    Path copy = Files.createDirectories(folder.resolve("shipped"));
    for (String name :
        List.of(
            "overnight-characterization.yaml",
            "parts/one-temperature.yaml",
            "parts/on-the-way.yaml")) {
      String text = Files.readString(Path.of("sequences", name));
      Path to = copy.resolve(name);
      Files.createDirectories(to.getParent());
      Files.writeString(
          to,
          text.replace("in ranges: all", "in ranges: " + ranges)
              .replace("if it ends within: 7 h", "if it ends within: 1 min"));
    }
    return copy.resolve("overnight-characterization.yaml");
  }

  /** A night that is not begun, a unit in each slot. */
  static ComparedNight planned(Path folder, Path sequence, int units, long seed)
      throws IOException {
    List<String> slots = Stream.iterate(1, n -> n + 1).limit(units).map(String::valueOf).toList();
    return new ComparedNight(folder, sequence, slots, seed);
  }

  /** Runs a night to its end, a unit in each slot. */
  static ComparedNight of(Path folder, Path sequence, int units, long seed) throws IOException {
    ComparedNight night = planned(folder, sequence, units, seed);
    night.run();
    return night;
  }

  void observe(RunObserver observer) {
    observers.add(observer);
  }

  /** The unit in a slot is switched off. */
  void die(int unit) {
    bench.switchOff(slots.get(unit), true);
  }

  void run() {
    byte[] file =
        SimulatedBenchFile.text(SimulatedBenchFile.sockets(bench), slots)
            .getBytes(StandardCharsets.UTF_8);
    OperatorAttendance nobody =
        new OperatorAttendance(
            RunStart.People.NONE,
            question -> "",
            observers,
            new StopRequest(run -> "Go on with: millrace run --resume " + run),
            List.of());
    try (BenchSession setting =
        BenchSession.ofFile(
            "compared.bench.yaml",
            file,
            Drivers.load(Path.of("drivers")),
            clock,
            BenchOperator.NOBODY)) {
      Night night = new Night(inputs, setting, logbook, nobody);
      List<UnitUnderTest> orders = new ArrayList<>();
      for (String slot : slots) {
        orders.add(UnitUnderTest.in(slots.size() > 1 ? slot : "", "FX3-0000" + slot));
      }
      night.begin(orders);
      runs.addAll(night.runs());
    }
  }

  double hours() {
    return clock.elapsed().toMillis() / 3.6e6;
  }

  RunReader reader(int unit) {
    return logbook.reader(runs.get(unit));
  }

  Assessment assessment(int unit) {
    return Assessor.assess(reader(unit));
  }

  SimulatedUnit unit(int unit) {
    return bench.unit(slots.get(unit));
  }

  /** What is not in its safe state, by the log of the simulated instruments. */
  List<String> unsafe() {
    return bench.unsafe();
  }

  List<String> mistreatments() {
    return bench.mistreatments();
  }

  /** Where the units come to rest when the chamber shows a temperature. */
  double restDegC(double setpointDegC) {
    return setpointDegC - bench.truth().chamberK();
  }

  /** What the readings of a unit found, with the true temperature it had at each. */
  List<SimMeterReply> given(int unit) {
    return bench.given().stream()
        .filter(g -> g.instrument().equals("ammeter") && g.position().equals(slots.get(unit)))
        .toList();
  }

  /** How long the preview would have said it takes. */
  double previewedHours() {
    Plan plan = inputs.plan(slots.size() > 1 ? slots : List.of());
    return Schedule.of(plan, inputs.datasheet(), UsualBenchSpeeds.of(50, Double.POSITIVE_INFINITY))
            .total()
            .toMillis()
        / 3.6e6;
  }

  /**
   * What a soak left of the current of one range, at the reading at which most was left.
   *
   * @param truePpm current less that of the unit at rest, ppm of nominal
   * @param statedPpm what was told of it, with 2 u, ppm
   */
  record Remainder(String range, double setpointDegC, double truePpm, double statedPpm) {}

  /** The same for the range that was told of in each stay of a unit. */
  List<Remainder> left(int unit) {
    List<SimMeterReply> given = given(unit);
    List<Remainder> left = new ArrayList<>();
    List<SoakStudy> soaks = assessment(unit).soaks();
    List<Point> ends =
        reader(unit).points().stream().filter(p -> p.kind() == PointKind.SOAK).toList();
    for (SoakStudy soak : soaks) {
      Duration over =
          ends.stream()
              .filter(p -> p.key().startsWith("soak %s ".formatted(soak.stay() + 1)))
              .map(Point::ended)
              .findFirst()
              .orElseThrow();
      SimMeterReply first =
          given.stream()
              .filter(g -> g.elapsed().compareTo(over) > 0)
              .filter(g -> g.range().equals(Optional.of(soak.range())))
              .findFirst()
              .orElseThrow();
      double now = unit(unit).truth(soak.range(), first.unitDegC()).currentA(0);
      double rest = unit(unit).truth(soak.range(), restDegC(soak.setpointDegC())).currentA(0);
      double ppm = (now / rest - 1) * 1e6;
      double stated = soak.leftRatio().orElseThrow() * 1e6;
      left.add(new Remainder(soak.range(), soak.setpointDegC(), ppm, stated));
    }
    return left;
  }

  /** Bench time by part, hours: every unit's points counted. */
  Map<String, Double> parts() {
    double soak = 0;
    double integrate = 0;
    double settle = 0;
    double meanwhile = 0;
    for (int unit = 0; unit < slots.size(); unit++) {
      RunReader run = reader(unit);
      double before = -1;
      for (Point p : run.points()) {
        double span = p.ended().minus(p.started()).toMillis() / 3.6e6;
        double readings =
            run.readings(p.id()).stream()
                    .filter(
                        r ->
                            r.signal() == MeasuredSignal.CURRENT
                                || r.signal() == MeasuredSignal.VOLTAGE)
                    .count()
                * 0.4
                / 3600;
        if (p.kind() == PointKind.SOAK) {
          double began = p.started().toMillis();
          soak += unit == 0 && began != before ? span : 0;
          before = began;
        } else if (p.kind() == PointKind.MEASURE || p.kind() == PointKind.TRIAL) {
          integrate += readings;
          settle += span - readings;
        } else {
          meanwhile += span;
        }
      }
    }
    Map<String, Double> parts = new LinkedHashMap<>();
    parts.put("move and soak", soak);
    parts.put("of that used for zero and knee", meanwhile);
    parts.put("integrate", integrate);
    parts.put("settle and switch", settle);
    return parts;
  }

  @Override
  public void close() {
    try {
      logbook.close();
    } finally {
      bench.close();
    }
  }

  static void write(Path path, List<String> lines) {
    try {
      Files.createDirectories(path.getParent());
      Files.write(path, lines);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
