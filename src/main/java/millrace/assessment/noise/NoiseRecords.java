// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.noise;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import millrace.analysis.noise.LongRecord;
import millrace.analysis.noise.RunNoise;
import millrace.assessment.tally.RunReadingTallies;
import millrace.assessment.tally.TimeSeriesColumns;
import millrace.bench.role.RoleName;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.evidence.RunOrigin;
import millrace.evidence.setting.MeterSettings;
import millrace.logbook.InstrumentEntry;
import millrace.logbook.RunFilter;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;

/**
 * The records over time of a logbook, which give the law of slow noise. They are those of the run
 * itself, then of other runs of the same unit, and if there are none, of other units at the same
 * meter, newest first (methods.md 2.1, 5.10, 6.3). A record applies to readings of the same meter
 * in the same range, with the same integration time and a similar rate. A record of another unit
 * must also have the same nominal current and a similar scatter from reading to reading. Records
 * are read on first use. Single-threaded.
 */
public final class NoiseRecords {
  /** Largest number of other runs that are searched. */
  private static final int MOST_RUNS = 20;

  /** Nominal currents within this ratio count as equal. */
  private static final double SAME_NOMINAL = 0.01;

  /** Largest allowed ratio of the scatter of another unit's record. */
  private static final double MOST_APART = 1.5;

  /** Largest number of readings used of a record. */
  private static final int MOST_READINGS = 1 << 18;

  private final RunReader reader;
  private final List<Candidate> own = new ArrayList<>();
  private final Map<Long, List<Candidate>> others = new LinkedHashMap<>();
  private Optional<List<RunSummary>> runs = Optional.empty();
  private Optional<List<RunSummary>> elsewhere = Optional.empty();

  /** A record and its origin. */
  private record Candidate(Point point, LongRecord record) {}

  /**
   * The properties that a record must share with readings.
   *
   * @param point any of the readings' points
   * @param intervalS the time from reading to reading, s
   * @param spanS the span of the readings, s: a record of at least that length is preferred
   * @param stepPpm rms of the steps from reading to reading, ppm; empty if it is not known
   */
  record Wanted(Point point, double intervalS, double spanS, OptionalDouble stepPpm) {}

  /**
   * The records that apply to a run.
   *
   * @param reader the run, with access to the others of its logbook
   * @param tallies its readings
   */
  public NoiseRecords(RunReader reader, RunReadingTallies tallies) {
    this.reader = reader;
    for (TimeSeriesColumns series : tallies.records()) {
      candidate(series, "the record of this run").ifPresent(own::add);
    }
  }

  private static Optional<Candidate> candidate(TimeSeriesColumns series, String name) {
    Point point = series.point();
    double nominal = Math.abs(point.conditions().nominalA().orElse(0));
    int n = Math.min(series.size(MeasuredSignal.CURRENT), MOST_READINGS);
    if (n < RunNoise.LEAST_RECORD || nominal == 0) {
      return Optional.empty();
    }
    double[] t = new double[n];
    double[] ppm = new double[n];
    double first = series.value(MeasuredSignal.CURRENT, 0);
    for (int i = 0; i < n; i++) {
      t[i] = series.timeS(MeasuredSignal.CURRENT, i);
      ppm[i] = (series.value(MeasuredSignal.CURRENT, i) - first) / nominal * 1e6;
      if (i > 0 && t[i] < t[i - 1]) {
        return Optional.empty();
      }
    }
    return t[n - 1] > t[0]
        ? Optional.of(new Candidate(point, LongRecord.of(name, t, ppm)))
        : Optional.empty();
  }

  /** The newest record that is long enough, else the newest shorter one that applies. */
  Optional<LongRecord> of(Wanted wanted) {
    Optional<LongRecord> mine =
        found(wanted, own).or(() -> among(runs(), wanted, Kinship.SAME_UNIT));
    boolean whole = mine.filter(r -> r.spanS() >= wanted.spanS()).isPresent();
    return whole
        ? mine
        : among(ofOtherUnits(), wanted, Kinship.SAME_METER)
            .filter(r -> mine.isEmpty() || r.spanS() >= wanted.spanS())
            .or(() -> mine);
  }

  /**
   * A record for the drift of another record: same load and set value, but none of its readings.
   */
  public Optional<LongRecord> beside(Point record, double intervalS, int readings) {
    Wanted wanted = new Wanted(record, intervalS, 4 * readings * intervalS, OptionalDouble.empty());
    List<Candidate> rest = own.stream().filter(c -> c.point().id() != record.id()).toList();
    return found(wanted, alike(record, rest)).or(() -> among(runs(), wanted, Kinship.SAME_LOAD));
  }

  /** The properties that a record of another run must share with the readings. */
  private enum Kinship {
    SAME_UNIT,
    /** Of the unit, at the same load and set value. */
    SAME_LOAD,
    /** Of any unit. */
    SAME_METER
  }

  private Optional<LongRecord> among(List<RunSummary> from, Wanted wanted, Kinship kinship) {
    Optional<LongRecord> shorter = Optional.empty();
    for (RunSummary run : from) {
      List<Candidate> there = others.computeIfAbsent(run.id(), id -> read(run));
      Optional<LongRecord> found =
          switch (kinship) {
            case SAME_UNIT -> found(wanted, there);
            case SAME_LOAD -> found(wanted, alike(wanted.point(), there));
            case SAME_METER -> foundOfOther(wanted, there);
          };
      if (found.isPresent() && found.get().spanS() >= wanted.spanS()) {
        return found;
      }
      shorter = shorter.or(() -> found);
    }
    return shorter;
  }

  private static List<Candidate> alike(Point point, List<Candidate> from) {
    PointConditions c = point.conditions();
    return from.stream()
        .filter(x -> x.point().conditions().loadOhm().equals(c.loadOhm()))
        .filter(x -> x.point().conditions().setA().equals(c.setA()))
        .toList();
  }

  private static Optional<LongRecord> found(Wanted wanted, List<Candidate> from) {
    return longest(
        wanted, from.stream().filter(c -> setting(c.point()).equals(setting(wanted.point()))));
  }

  /** Of another unit: the same setting of the meter, current and scatter. */
  private static Optional<LongRecord> foundOfOther(Wanted wanted, List<Candidate> from) {
    double nominal = nominalA(wanted.point());
    return longest(
            wanted,
            from.stream()
                .filter(c -> meter(c.point()).equals(meter(wanted.point())))
                .filter(c -> Math.abs(nominalA(c.point()) - nominal) <= SAME_NOMINAL * nominal)
                .filter(c -> scattersAlike(c.record(), wanted)))
        .map(LongRecord::ofAnotherUnit);
  }

  private static boolean scattersAlike(LongRecord record, Wanted wanted) {
    double ratio = record.stepPpm() / wanted.stepPpm().orElse(record.stepPpm());
    return ratio <= MOST_APART && ratio >= 1 / MOST_APART;
  }

  private static double nominalA(Point point) {
    return Math.abs(point.conditions().nominalA().orElse(0));
  }

  private static Optional<LongRecord> longest(Wanted wanted, Stream<Candidate> from) {
    List<LongRecord> fitting =
        from.map(Candidate::record).filter(r -> r.paced(wanted.intervalS())).toList();
    return fitting.stream()
        .filter(r -> r.spanS() >= wanted.spanS())
        .findFirst()
        .or(() -> fitting.stream().max(Comparator.comparingDouble(LongRecord::spanS)));
  }

  /** The range of the unit, and the meter's range and integration time. */
  private static List<Object> setting(Point point) {
    return List.of(point.conditions().range().orElse(""), meter(point));
  }

  /** The meter's range and integration time. */
  private static List<Object> meter(Point point) {
    MeterSettings meter = point.settings().currentMeter();
    return List.of(meter.range(), meter.cycles());
  }

  /** Other runs of this unit, newest first. */
  private List<RunSummary> runs() {
    if (runs.isEmpty()) {
      Optional<String> unit = Optional.of(reader.summary().start().unit());
      runs = Optional.of(newest(RunFilter.ALL.ofUnit(unit)).limit(MOST_RUNS).toList());
    }
    return runs.get();
  }

  /** Real runs for a real one, simulated ones for a simulated one. */
  private Stream<RunSummary> newest(RunFilter filter) {
    boolean simulated = reader.summary().start().origin() == RunOrigin.SIMULATED;
    return reader.others(filter).stream()
        .filter(r -> r.start().origin() == RunOrigin.SIMULATED == simulated)
        .sorted(
            Comparator.comparing((RunSummary r) -> r.start().startedAt())
                .thenComparing(RunSummary::id)
                .reversed());
  }

  private String name(RunSummary run) {
    String unit = run.start().unit();
    return "the record of run %s".formatted(run.id())
        + (unit.equals(reader.summary().start().unit()) ? "" : ", unit '%s'".formatted(unit));
  }

  /** Runs of other units that the same meter read, newest first. */
  private List<RunSummary> ofOtherUnits() {
    if (elsewhere.isEmpty()) {
      String unit = reader.summary().start().unit();
      Set<String> meters = meters(reader);
      elsewhere =
          Optional.of(
              meters.isEmpty()
                  ? List.of()
                  : newest(RunFilter.ALL)
                      .filter(r -> !r.start().unit().equals(unit))
                      .filter(r -> meters(reader.other(r.id())).equals(meters))
                      .limit(MOST_RUNS)
                      .toList());
    }
    return elsewhere.get();
  }

  /** The current meter, by serial number, else by its identification reply, else by its name. */
  private static Set<String> meters(RunReader run) {
    Set<String> meters = new TreeSet<>();
    for (InstrumentEntry e : run.instruments()) {
      boolean reads =
          e.roles().contains(RoleName.CURRENT_METER.text())
              || e.roles().contains(RoleName.SHUNT_VOLTMETER.text());
      if (reads) {
        String identity = e.identity().isEmpty() ? e.name() : e.identity();
        meters.add(e.driver() + " " + e.serial().orElse(identity));
      }
    }
    return meters;
  }

  private List<Candidate> read(RunSummary run) {
    RunReader other = reader.other(run.id());
    List<Candidate> found = new ArrayList<>();
    for (long point : other.pointsOf(PointKind.TIME_SERIES)) {
      TimeSeriesColumns series = new TimeSeriesColumns(other.point(point).orElseThrow());
      RunReadingTallies.columns(other, point, series);
      candidate(series, name(run)).ifPresent(found::add);
    }
    return found;
  }
}
