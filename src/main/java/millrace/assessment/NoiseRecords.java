package millrace.assessment;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.analysis.noise.LongRecord;
import millrace.analysis.noise.RunNoise;
import millrace.evidence.Conditions;
import millrace.evidence.Origin;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.Signal;
import millrace.logbook.RunFilter;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;

/**
 * The records over time that a logbook has of a unit, which tell the law of slow noise: those of
 * the run itself and of other runs of the same unit, newest first (measurement.md 2.1, 5.10, 6.3).
 * A record serves readings that the same meter took in the same range, with the same integration
 * time, and about as fast. Read when they are first asked for. Single-threaded.
 */
final class NoiseRecords {
  /** How many other runs are looked into. */
  private static final int MOST_RUNS = 20;

  /** No record has more readings than this looked at. */
  private static final int MOST_READINGS = 1 << 18;

  private final RunReader reader;
  private final List<Candidate> own = new ArrayList<>();
  private final Map<Long, List<Candidate>> others = new LinkedHashMap<>();
  private Optional<List<RunSummary>> runs = Optional.empty();

  /** A record, and where it was found. */
  private record Candidate(Point point, LongRecord record) {}

  /**
   * What a record must share with readings.
   *
   * @param point any of the readings' points
   * @param intervalS the time from reading to reading, s
   * @param spanS how far the readings lie apart, s: a record as long as that is looked for first
   */
  record Wanted(Point point, double intervalS, double spanS) {}

  NoiseRecords(RunReader reader, Tallies tallies) {
    this.reader = reader;
    for (SeriesColumns series : tallies.records()) {
      candidate(
              series.point(),
              "the record of this run",
              series.timeS(Signal.CURRENT),
              series.values(Signal.CURRENT))
          .ifPresent(own::add);
    }
  }

  private static Optional<Candidate> candidate(
      Point point, String name, double[] timeS, double[] currentA) {
    double nominal = Math.abs(point.conditions().nominalA().orElse(0));
    int n = Math.min(timeS.length, MOST_READINGS);
    if (n < RunNoise.LEAST_RECORD || nominal == 0) {
      return Optional.empty();
    }
    double[] t = new double[n];
    double[] ppm = new double[n];
    for (int i = 0; i < n; i++) {
      t[i] = timeS[i];
      ppm[i] = (currentA[i] - currentA[0]) / nominal * 1e6;
      if (i > 0 && t[i] < t[i - 1]) {
        return Optional.empty();
      }
    }
    return t[n - 1] > t[0]
        ? Optional.of(new Candidate(point, LongRecord.of(name, t, ppm)))
        : Optional.empty();
  }

  /** The newest record that is long enough, else the newest that serves for shorter ones. */
  Optional<LongRecord> of(Wanted wanted) {
    return found(wanted, own).or(() -> elsewhere(wanted, false));
  }

  /**
   * A record for the drift of another one: of the same load and set value, none of its readings.
   */
  Optional<LongRecord> beside(Point record, double intervalS, int readings) {
    Wanted wanted = new Wanted(record, intervalS, 4 * readings * intervalS);
    List<Candidate> rest = own.stream().filter(c -> c.point().id() != record.id()).toList();
    return found(wanted, alike(record, rest)).or(() -> elsewhere(wanted, true));
  }

  private Optional<LongRecord> elsewhere(Wanted wanted, boolean alike) {
    Optional<LongRecord> shorter = Optional.empty();
    for (RunSummary run : runs()) {
      List<Candidate> there = others.computeIfAbsent(run.id(), id -> read(run));
      List<Candidate> fitting = alike ? alike(wanted.point(), there) : there;
      Optional<LongRecord> found = found(wanted, fitting);
      if (found.isPresent() && found.get().spanS() >= wanted.spanS()) {
        return found;
      }
      shorter = shorter.or(() -> found);
    }
    return shorter;
  }

  private static List<Candidate> alike(Point point, List<Candidate> from) {
    Conditions c = point.conditions();
    return from.stream()
        .filter(x -> x.point().conditions().loadOhm().equals(c.loadOhm()))
        .filter(x -> x.point().conditions().setA().equals(c.setA()))
        .toList();
  }

  private static Optional<LongRecord> found(Wanted wanted, List<Candidate> from) {
    List<LongRecord> fitting =
        from.stream()
            .filter(c -> setting(c.point()).equals(setting(wanted.point())))
            .map(Candidate::record)
            .filter(r -> r.paced(wanted.intervalS()))
            .toList();
    return fitting.stream()
        .filter(r -> r.spanS() >= wanted.spanS())
        .findFirst()
        .or(() -> fitting.stream().max(Comparator.comparingDouble(LongRecord::spanS)));
  }

  /** The range of the unit, and the meter's range and integration time. */
  private static List<Object> setting(Point point) {
    return List.of(
        point.conditions().range().orElse(""),
        Pools.meterRange(point, Signal.CURRENT),
        point.settings().getOrDefault("current meter cycles", ""));
  }

  /** Other runs of this unit, newest first. */
  private List<RunSummary> runs() {
    if (runs.isEmpty()) {
      RunSummary mine = reader.summary();
      boolean simulated = mine.start().origin() == Origin.SIMULATED;
      runs =
          Optional.of(
              reader.others(RunFilter.ALL.ofUnit(Optional.of(mine.start().unit()))).stream()
                  .filter(r -> r.start().origin() == Origin.SIMULATED == simulated)
                  .sorted(
                      Comparator.comparing((RunSummary r) -> r.start().startedAt())
                          .thenComparing(RunSummary::id)
                          .reversed())
                  .limit(MOST_RUNS)
                  .toList());
    }
    return runs.get();
  }

  private List<Candidate> read(RunSummary run) {
    RunReader other = reader.other(run.id());
    List<Candidate> found = new ArrayList<>();
    for (long point : other.pointsOf(PointKind.TIME_SERIES)) {
      SeriesColumns series = new SeriesColumns(other.point(point).orElseThrow());
      Tallies.columns(other, point, series);
      candidate(
              series.point(),
              "the record of run %s".formatted(run.id()),
              series.timeS(Signal.CURRENT),
              series.values(Signal.CURRENT))
          .ifPresent(found::add);
    }
    return found;
  }
}
