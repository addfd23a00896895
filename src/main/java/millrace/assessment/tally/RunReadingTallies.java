// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.tally;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.analysis.reduction.ReadingAccumulator;
import millrace.analysis.reduction.ReadingStatistics;
import millrace.assessment.tally.PointReadingTally.Shape;
import millrace.assessment.tally.PointReadingTally.StatedErrors;
import millrace.evidence.ErrorDistribution;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.ReadingState;
import millrace.evidence.RunOrigin;
import millrace.logbook.PointCursor;
import millrace.logbook.ReadingCursor;
import millrace.logbook.RunReader;
import millrace.quantity.EnumWord;
import millrace.quantity.NumberText;
import millrace.quantity.TimeSpanSeconds;
import org.jspecify.annotations.Nullable;

/**
 * Sums the readings of a run point by point while they are read. Series of readings over time
 * (soak, watch) are kept as columns. Single-threaded.
 */
public final class RunReadingTallies {
  /** Least number of readings at different times for a record over time. */
  private static final int LEAST_RECORD = 20;

  /** Least number of loads for a sweep. */
  private static final int SWEEP_LOADS = 3;

  /** Least ratio of a record's length to that of the usual point in a range with a load sweep. */
  private static final int FAR_MORE = 10;

  /** Number of readings kept with their times, for the law of their noise. */
  private static final int MOST_KEPT = 20_000;

  private final Map<Long, TimeSeriesColumns> kept = new HashMap<>();
  private int keptReadings;
  private final List<PointReadingTally> tallies = new ArrayList<>();
  private final Optional<RepeatMerging> repeats;
  private final RunReader reader;
  private final List<OverTime> series = new ArrayList<>();

  /** A point with readings over time: a soak or series at once, else read again if it is wanted. */
  private static final class OverTime {
    private final Point point;
    private final int currents;
    private @Nullable TimeSeriesColumns columns;

    OverTime(Adding adding) {
      this.point = adding.point;
      this.currents = adding.currents;
      this.columns = adding.columns;
    }

    TimeSeriesColumns columns(RunReader reader) {
      TimeSeriesColumns known = columns;
      if (known == null) {
        known = new TimeSeriesColumns(point);
        Adding again = new Adding(point, true, known, null);
        try (ReadingCursor cursor = reader.readingsOf(point.id())) {
          while (cursor.next()) {
            again.add(cursor);
          }
        }
        columns = known;
      }
      return known;
    }
  }

  private RunReadingTallies(
      RunReader reader, Set<Long> withdrawn, Optional<RepeatMerging> repeats) {
    this.repeats = repeats;
    this.reader = reader;
    boolean imported = reader.summary().start().origin() == RunOrigin.IMPORTED;
    try (ReadingCursor cursor = reader.readings();
        PointCursor points = reader.pointsOneByOne()) {
      Adding adding = null;
      while (cursor.next()) {
        long point = cursor.point();
        if (withdrawn.contains(point)) {
          continue;
        }
        if (adding == null || adding.point.id() != point) {
          finish(adding);
          Point next = points.to(point);
          adding = new Adding(next, imported, columnsOf(next), keptOf(next));
        }
        adding.add(cursor);
      }
      finish(adding);
    }
    repeats.ifPresent(r -> tallies.addAll(r.points()));
  }

  /**
   * Adds up a run, point by point.
   *
   * @param withdrawn numbers of points that must not enter results
   */
  public static RunReadingTallies of(RunReader reader, Set<Long> withdrawn) {
    return new RunReadingTallies(reader, withdrawn, Optional.empty());
  }

  /**
   * Adds up a run for its results; an import may have more points than memory holds.
   *
   * @param withdrawn numbers of points that must not enter results
   */
  public static RunReadingTallies forResults(RunReader reader, Set<Long> withdrawn) {
    boolean imported = reader.summary().start().origin() == RunOrigin.IMPORTED;
    return new RunReadingTallies(
        reader,
        withdrawn,
        imported ? Optional.of(new RepeatMerging(reader.pointCount())) : Optional.empty());
  }

  /** A note on merged points. */
  public List<String> notes() {
    return repeats.map(RepeatMerging::notes).orElse(List.of());
  }

  /** The points with readings, in the order in which they were taken. */
  public List<PointReadingTally> points() {
    return tallies;
  }

  /** The points of one kind. */
  public List<PointReadingTally> points(PointKind kind) {
    return tallies.stream().filter(t -> t.point().kind() == kind).toList();
  }

  /** The points of an import: a series over time also counts as a point with its mean. */
  public List<PointReadingTally> imported() {
    return tallies.stream()
        .filter(
            t -> t.point().kind() == PointKind.MEASURE || t.point().kind() == PointKind.TIME_SERIES)
        .toList();
  }

  /** The current readings of a point with their times; empty if the run has too many readings. */
  public Optional<TimeSeriesColumns> readings(Point point) {
    return keptReadings > MOST_KEPT ? Optional.empty() : Optional.ofNullable(kept.get(point.id()));
  }

  /** Reads the currents of one point less their zero, without suspect ones. */
  public static void columns(RunReader reader, long point, TimeSeriesColumns into) {
    try (ReadingCursor cursor = reader.readingsOf(point)) {
      while (cursor.next()) {
        boolean good = cursor.hasValue() && cursor.state() != ReadingState.SUSPECT;
        if (good && cursor.signal() == MeasuredSignal.CURRENT && cursor.hasElapsed()) {
          double value = cursor.value() - cursor.zero().orElse(0);
          into.add(MeasuredSignal.CURRENT, cursor.elapsedNanos() / 1e9, value);
        }
      }
    }
  }

  /** The points that are readings over time. */
  public List<TimeSeriesColumns> series(PointKind kind) {
    return series.stream().filter(s -> s.point.kind() == kind).map(s -> s.columns(reader)).toList();
  }

  /**
   * Records over time: those of steps that record the current, and points of imports with many
   * readings at different times. In a load sweep many readings of a point only form its mean,
   * unless one point has far more than the others.
   */
  public List<TimeSeriesColumns> records() {
    Map<String, Long> least = new HashMap<>();
    return series.stream()
        .filter(s -> s.point.kind() != PointKind.SOAK && s.currents > 0)
        .filter(
            s ->
                s.point.kind() == PointKind.TIME_SERIES
                    || s.currents >= least.computeIfAbsent(rangeOf(s.point), this::leastOfSweep))
        .map(s -> s.columns(reader))
        .toList();
  }

  private static String rangeOf(Point point) {
    return point.conditions().range().orElse("");
  }

  /** Least number of readings for a record in a range: more if the load was swept. */
  private long leastOfSweep(String range) {
    List<PointReadingTally> there =
        tallies.stream()
            .filter(
                t -> rangeOf(t.point()).equals(range) && t.of(MeasuredSignal.CURRENT).isPresent())
            .toList();
    long loads = there.stream().map(t -> t.point().conditions().loadOhm()).distinct().count();
    long[] counts =
        there.stream()
            .mapToLong(t -> t.of(MeasuredSignal.CURRENT).orElseThrow().n())
            .sorted()
            .toArray();
    return loads < SWEEP_LOADS ? 0 : FAR_MORE * counts[counts.length / 2];
  }

  private void finish(@Nullable Adding adding) {
    if (adding != null) {
      PointReadingTally tally = adding.tally();
      repeats.ifPresentOrElse(r -> r.add(tally), () -> tallies.add(tally));
      keep(adding.kept);
      if (adding.overTime()) {
        series.add(new OverTime(adding));
      }
    }
  }

  private static @Nullable TimeSeriesColumns columnsOf(Point point) {
    return Adding.planned(point) ? new TimeSeriesColumns(point) : null;
  }

  private @Nullable TimeSeriesColumns keptOf(Point point) {
    boolean mean = point.kind() == PointKind.MEASURE && keptReadings <= MOST_KEPT;
    return mean ? new TimeSeriesColumns(point) : null;
  }

  private void keep(@Nullable TimeSeriesColumns columns) {
    if (columns == null) {
      return;
    }
    keptReadings += columns.size(MeasuredSignal.CURRENT);
    if (keptReadings > MOST_KEPT) {
      kept.clear();
    } else if (columns.has(MeasuredSignal.CURRENT)) {
      kept.put(columns.point().id(), columns);
    }
  }

  /** One point while its readings come. */
  private static final class Adding {
    private final Point point;
    private final Map<MeasuredSignal, ReadingAccumulator> good =
        new EnumMap<>(MeasuredSignal.class);
    private final Map<MeasuredSignal, ReadingAccumulator> all = new EnumMap<>(MeasuredSignal.class);
    private final Map<MeasuredSignal, StatedTally> stated = new EnumMap<>(MeasuredSignal.class);
    private final @Nullable TimeSeriesColumns columns;
    private final @Nullable TimeSeriesColumns kept;
    private final boolean imported;
    private OptionalDouble zero = OptionalDouble.empty();
    private boolean suspect;
    private double timeSum;
    private long times;
    private int currents;
    private double firstS;
    private double lastS;

    /**
     * A point without readings.
     *
     * @param imported any of its points may be a record over time
     * @param columns takes all readings; null where they are not held
     * @param kept takes those of the mean current with their times; null where they are not held
     */
    Adding(
        Point point,
        boolean imported,
        @Nullable TimeSeriesColumns columns,
        @Nullable TimeSeriesColumns kept) {
      this.point = point;
      this.imported = imported;
      this.columns = columns;
      this.kept = kept;
    }

    private static boolean planned(Point point) {
      return point.kind() == PointKind.SOAK || point.kind() == PointKind.TIME_SERIES;
    }

    boolean overTime() {
      return planned(point) || (imported && currents >= LEAST_RECORD && lastS != firstS);
    }

    void add(ReadingCursor cursor) {
      if (!cursor.hasValue()) {
        return;
      }
      double value = cursor.value();
      MeasuredSignal signal = cursor.signal();
      boolean doubtful = cursor.state() == ReadingState.SUSPECT;
      suspect |= doubtful;
      all.computeIfAbsent(signal, s -> new ReadingAccumulator()).add(value);
      if (!doubtful) {
        good.computeIfAbsent(signal, s -> new ReadingAccumulator()).add(value);
      }
      boolean timed = cursor.hasElapsed();
      double timeS = timed ? cursor.elapsedNanos() / 1e9 : 0;
      if (signal == MeasuredSignal.CURRENT) {
        zero = cursor.zero();
        timeSum += timeS;
        times += timed ? 1 : 0;
      }
      if (cursor.u().isPresent() || cursor.commonGroup().isPresent()) {
        stated.computeIfAbsent(signal, s -> new StatedTally()).add(cursor);
      }
      if (!doubtful && timed) {
        over(signal, timeS, value - zeroOf(signal));
      }
    }

    private void over(MeasuredSignal signal, double atS, double value) {
      if (signal == MeasuredSignal.CURRENT) {
        firstS = currents == 0 ? atS : firstS;
        lastS = atS;
        currents++;
      }
      boolean few = currents <= MOST_KEPT + 1;
      if (kept != null && few && signal.forward() == MeasuredSignal.CURRENT) {
        kept.add(signal, atS, value);
      }
      if (columns != null) {
        columns.add(signal, atS, value);
      }
    }

    private double zeroOf(MeasuredSignal signal) {
      return signal == MeasuredSignal.CURRENT ? zero.orElse(0) : 0;
    }

    PointReadingTally tally() {
      Map<MeasuredSignal, StatedErrors> errors = new EnumMap<>(MeasuredSignal.class);
      stated.forEach((signal, s) -> errors.put(signal, s.errors()));
      double began = TimeSpanSeconds.seconds(point.started());
      return new PointReadingTally(
          point,
          statistics(good),
          suspect ? statistics(all) : Map.of(),
          zero,
          errors,
          times > 0 ? timeSum / times : began);
    }

    private static Map<MeasuredSignal, ReadingStatistics> statistics(
        Map<MeasuredSignal, ReadingAccumulator> tallies) {
      Map<MeasuredSignal, ReadingStatistics> statistics = new EnumMap<>(MeasuredSignal.class);
      tallies.forEach((signal, tally) -> statistics.put(signal, tally.statistics()));
      return statistics;
    }
  }

  /** The stated errors of one signal's readings in one point. */
  private static final class StatedTally {
    /** Names as in imported files, stored unchanged with the readings. */
    private static final String U_DISTRIBUTION = "u_distribution";

    private static final String U_DEGREES_OF_FREEDOM = "u_degrees_of_freedom";

    private long n;
    private long withU;
    private double squares;
    private double common;
    private double commonRelative;
    private String group = "";
    private String meterRange = "";
    private ErrorDistribution distribution = ErrorDistribution.NORMAL;
    private OptionalDouble degrees = OptionalDouble.empty();

    void add(ReadingCursor cursor) {
      n++;
      shape(cursor.extra());
      if (cursor.u().isPresent()) {
        withU++;
        squares += cursor.u().getAsDouble() * cursor.u().getAsDouble();
      }
      common = Math.max(common, cursor.uCommon().orElse(0));
      commonRelative = Math.max(commonRelative, cursor.uCommonRelative().orElse(0));
      group = cursor.commonGroup().orElse(group);
      meterRange = cursor.meterRange().orElse(meterRange);
    }

    private void shape(Map<String, String> extra) {
      if (extra.isEmpty()) {
        return;
      }
      distribution =
          Optional.ofNullable(extra.get(U_DISTRIBUTION))
              .flatMap(word -> EnumWord.find(ErrorDistribution.class, word))
              .orElse(distribution);
      NumberText.parse(extra.getOrDefault(U_DEGREES_OF_FREEDOM, ""))
          .ifPresent(now -> degrees = OptionalDouble.of(Math.min(now, degrees.orElse(now))));
    }

    StatedErrors errors() {
      OptionalDouble u =
          withU == n ? OptionalDouble.of(Math.sqrt(squares) / n) : OptionalDouble.empty();
      Shape one = new Shape(distribution, degrees);
      return new StatedErrors(
          u, n > 1 ? one.ofMean() : one, common, commonRelative, group, meterRange);
    }
  }
}
