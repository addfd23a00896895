// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.assessment.noise.NoiseRecords;
import millrace.assessment.noise.ReadingNoise;
import millrace.assessment.reduction.BenchReadingReduction;
import millrace.assessment.reduction.ReducedPoint;
import millrace.assessment.tally.RunReadingTallies;
import millrace.bench.BenchForms;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.evidence.PointNumber;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.evidence.RunOrigin;
import millrace.evidence.setting.PointSettings;
import millrace.logbook.FileRole;
import millrace.logbook.Logbook;
import millrace.logbook.RunFacts;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.logbook.RunState;
import millrace.logbook.RunWriter;

/** A run on a bench as a logbook keeps it, with readings that a test makes up. */
public final class BenchRun {
  private static final Instant START = Instant.parse("2026-02-03T18:00:00Z");
  private static final double BETWEEN_S = 10;

  /** One meter in the loop; 2 ohm of leads and burden belong to the terminals. */
  public static final String BENCH =
      """
      bench: one meter
      before a change: source off
      instruments:
        dmm:
          driver: scpi meter
          address: tcp 127.0.0.1:5025
          roles:
            current meter:
              accuracy:
                - {range: 2 mA, reading: 100 ppm, full scale: 10 ppm, burden: 1 ohm}
      wiring:
        leads: 1 ohm
      """;

  private final RunWriter writer;
  private final List<Reading> readings = new ArrayList<>();
  private OptionalDouble zero = OptionalDouble.empty();
  private double clockS;
  private int points;

  private BenchRun(RunWriter writer) {
    this.writer = writer;
  }

  /** Begins a run of unit 'U1'. */
  public static BenchRun begun(Logbook book) {
    RunStart start =
        new RunStart(
            "U1",
            RunOrigin.BENCH,
            "sweep",
            RunStart.People.NONE,
            Optional.empty(),
            "0.0.1",
            START,
            ZoneOffset.UTC,
            RunFacts.NONE);
    BenchRun run = new BenchRun(book.begin(start));
    run.writer.file(FileRole.BENCH, "bench.yaml", BENCH.getBytes(UTF_8));
    return run;
  }

  /** A load at a temperature of range 1mA. */
  public static PointConditions at(double degC, double ohm) {
    return PointConditions.NONE
        .inRange("1mA", 1e-3)
        .atTemperature(degC)
        .atLoad(ohm, OptionalDouble.empty(), Optional.empty());
  }

  /** Reads a number for the point that is committed next. */
  public BenchRun reads(MeasuredSignal signal, double value) {
    return reads(signal, ReadingState.NUMBER, OptionalDouble.of(value));
  }

  /** The zero that counts for the readings from now on, A. */
  public BenchRun zeroed(double amperes) {
    zero = OptionalDouble.of(amperes);
    return this;
  }

  /** Reads something for the point that is committed next. */
  public BenchRun reads(MeasuredSignal signal, ReadingState state, OptionalDouble value) {
    clockS += 0.5;
    Duration at = elapsed();
    readings.add(new Reading(signal, "dmm", state, value, zero, "as read", START.plus(at), at));
    return this;
  }

  private Duration elapsed() {
    return Duration.ofNanos(Math.round(clockS * 1e9));
  }

  /** Commits a point with what was read for it. */
  public BenchRun commits(PointKind kind, PointConditions conditions) {
    Duration at = elapsed();
    PointSettings settings = PointSettings.of(Map.of("current meter range", "2 mA"));
    points++;
    writer.commit(
        new Point(
            0,
            PointNumber.of(points),
            "p" + points,
            kind,
            conditions,
            PointState.COMPLETE,
            "",
            at,
            at,
            settings),
        List.copyOf(readings),
        List.of());
    readings.clear();
    clockS += BETWEEN_S;
    return this;
  }

  /** The run, ended. */
  public RunReader ended(Logbook book) {
    writer.end(RunState.COMPLETE, "", START.plus(elapsed()));
    writer.close();
    return book.reader(writer.run());
  }

  /** Its points, reduced by the bench file. */
  public static List<ReducedPoint> reduced(RunReader reader) {
    RunReadingTallies tallies = RunReadingTallies.forResults(reader, Set.of());
    ReadingNoise slow = new ReadingNoise(tallies, new NoiseRecords(reader, tallies), 23);
    BenchReadingReduction reduction =
        new BenchReadingReduction(
            BenchForms.read("bench.yaml", BENCH.getBytes(UTF_8)), tallies, slow);
    return tallies.points(PointKind.MEASURE).stream()
        .flatMap(t -> reduction.of(t).stream())
        .toList();
  }

  /**
   * A night: six loads at each temperature, four readings each, of a source of 1 mA with an output
   * resistance and a temperature coefficient.
   */
  public static RunReader night(Logbook book, double outputOhm, double perK, double... degC) {
    BenchRun run = begun(book);
    for (double t : degC) {
      for (int k = 0; k < 6; k++) {
        double ohm = 1000.0 * k;
        double amperes = 1e-3 * (1 + perK * (t - 23)) - 1e-3 * ohm / outputOhm;
        for (int i = 0; i < 4; i++) {
          run.reads(MeasuredSignal.CURRENT, amperes + (i % 2 == 0 ? 1e-10 : -1e-10));
        }
        run.reads(MeasuredSignal.UNIT_TEMPERATURE, t).commits(PointKind.MEASURE, at(t, ohm));
      }
    }
    return run.ended(book);
  }
}
