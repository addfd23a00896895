// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.sql.SQLException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import millrace.evidence.Incident;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.Result;

/**
 * Reads one run, finished or still being written. One thread at a time, the thread of the logbook.
 */
public final class RunReader {
  private final SqlSession session;
  private final long run;
  private Optional<RunSummary> complete = Optional.empty();

  RunReader(SqlSession session, long run) {
    this.session = session;
    this.run = run;
  }

  private <T> T read(SqlSession.Work<T> work) {
    return session.query("reading run " + run, work);
  }

  /**
   * The summary of the run.
   *
   * @return as it stands now; of a run that is complete as it stood when it was first read
   */
  public RunSummary summary() {
    RunSummary now = complete.orElseGet(() -> read(() -> RunSqlRows.known(session, run)));
    complete = Optional.of(now).filter(s -> s.state() == RunState.COMPLETE);
    return now;
  }

  /**
   * The judged values of the units of its batch, of each unit the first run, in the order of time.
   *
   * @return empty if the run is in no batch, or no unit of it was judged
   */
  public List<BatchJudgedValue> batch() {
    RunStart start = summary().start();
    Optional<String> batch = start.people().batch();
    return batch.isEmpty()
        ? List.of()
        : read(() -> ResultSqlRows.batch(session, batch.get(), start.origin()));
  }

  /**
   * Another run of the same logbook.
   *
   * @param uuid of that run
   * @return its reader; empty if it is not there
   */
  public Optional<RunReader> other(UUID uuid) {
    return read(
        () ->
            RunSqlRows.byUuid(session, uuid.toString()).stream()
                .findFirst()
                .map(found -> new RunReader(session, found.id())));
  }

  /**
   * Its points, without their readings.
   *
   * @return in the order of taking
   */
  public List<Point> points() {
    return read(
        () -> session.list(PointSqlRows.BY_RUN, slots -> slots.whole(run), PointSqlRows::map));
  }

  /**
   * Its points as a stream, without their readings, for runs of more points than memory holds.
   *
   * @return a cursor before the first; close it
   */
  public PointCursor pointsOneByOne() {
    return read(
        () -> {
          SqlStatement statement = session.fresh(PointSqlRows.BY_RUN);
          statement.slots().whole(run);
          return new PointCursor(session, statement);
        });
  }

  /**
   * The numbers of its points of one kind.
   *
   * @param kind what was done there
   * @return in the order of taking
   */
  public List<Long> pointsOf(PointKind kind) {
    return read(
        () ->
            session.list(
                "SELECT number FROM point" + PointSqlRows.OF_RUN + " AND kind = ? ORDER BY number",
                slots -> slots.whole(run).text(kind.text()),
                SqlQueryRow::whole));
  }

  /**
   * Other runs of the same logbook.
   *
   * @param filter which ones
   * @return in the order of their numbers, this one left out
   */
  public List<RunSummary> others(RunFilter filter) {
    return read(() -> RunSqlRows.list(session, filter)).stream()
        .filter(r -> r.id() != run)
        .toList();
  }

  /**
   * Another run of the same logbook.
   *
   * @param number its local number, of a run that exists
   * @return its reader
   */
  public RunReader other(long number) {
    return new RunReader(session, number);
  }

  /**
   * How many points there are.
   *
   * @return 0 or more
   */
  public long pointCount() {
    return read(
        () ->
            session
                .one(
                    "SELECT count(*) FROM point" + PointSqlRows.OF_RUN,
                    slots -> slots.whole(run),
                    SqlQueryRow::whole)
                .orElse(0L));
  }

  /**
   * The number of points in each state. A point that was interrupted or skipped and then taken
   * after a resume counts once, in its last state.
   *
   * @return states that occur
   */
  public Map<PointState, Integer> pointStates() {
    return read(() -> PointSqlRows.states(session, run));
  }

  /**
   * The points that were taken at one place of the plan.
   *
   * @param place the place, from 1
   * @return the planned point, then those taken along with it; empty if there are none
   */
  public List<Point> pointsAt(int place) {
    return read(
        () ->
            session.list(
                PointSqlRows.BY_PLACE, slots -> slots.whole(run).whole(place), PointSqlRows::map));
  }

  /**
   * The last place of the plan that anything was taken at.
   *
   * @return from 1; 0 if nothing was taken
   */
  public long lastPlace() {
    return read(
        () ->
            session
                .one(
                    "SELECT coalesce(max(place), 0) FROM point" + PointSqlRows.OF_RUN,
                    slots -> slots.whole(run),
                    SqlQueryRow::whole)
                .orElse(0L));
  }

  /**
   * One point.
   *
   * @param id its place in the order of taking, see {@link Point#id}
   * @return the point; empty if there is none
   */
  public Optional<Point> point(long id) {
    return read(
        () ->
            session.one(
                PointSqlRows.BY_NUMBER, slots -> slots.whole(run).whole(id), PointSqlRows::map));
  }

  /**
   * All its readings as a stream, ordered by point and number.
   *
   * @return a cursor before the first; close it
   */
  public ReadingCursor readings() {
    return cursor("", slots -> slots.whole(run));
  }

  /**
   * Its readings of some signals as a stream, ordered by point and number.
   *
   * @param signals what they measure
   * @return a cursor before the first; close it
   */
  public ReadingCursor readings(Collection<MeasuredSignal> signals) {
    // The numbers of the channels are asked first: in one question each reading would ask for them.
    List<Long> channels = read(() -> ReadingChannels.numbers(session, run, signals));
    String places = channels.isEmpty() ? "" : ", ?".repeat(channels.size()).substring(2);
    return cursor(
        channels.isEmpty() ? " AND 1 = 0" : " AND r.channel_id IN (" + places + ")",
        slots -> slots.whole(run).wholes(channels));
  }

  /**
   * The readings of one point.
   *
   * @param point its number in the run
   * @return in the order of taking
   */
  public List<Reading> readings(long point) {
    List<Reading> readings = new ArrayList<>();
    try (ReadingCursor cursor = readingsOf(point)) {
      while (cursor.next()) {
        readings.add(cursor.reading());
      }
    }
    return readings;
  }

  /**
   * The last readings of one point, of a long record too without reading all of it.
   *
   * @param point its number in the run
   * @param most how many at most, 1 or more
   * @return in the order of taking
   */
  public List<Reading> lastReadings(long point, int most) {
    List<Reading> readings = new ArrayList<>();
    try (ReadingCursor cursor =
        cursor(
            " AND p.number = ?",
            " ORDER BY r.number DESC LIMIT ?",
            slots -> slots.whole(run).whole(point).whole(most))) {
      while (cursor.next()) {
        readings.add(cursor.reading());
      }
    }
    Collections.reverse(readings);
    return readings;
  }

  /**
   * The readings of one point as a stream, for points of more readings than memory holds well.
   *
   * @param point its number in the run
   * @return a cursor before the first; close it
   */
  public ReadingCursor readingsOf(long point) {
    return cursor(" AND p.number = ?", slots -> slots.whole(run).whole(point));
  }

  private ReadingCursor cursor(String condition, SqlSession.Filling filling) {
    return cursor(condition, ReadingCursor.ORDER, filling);
  }

  private ReadingCursor cursor(String condition, String order, SqlSession.Filling filling) {
    return read(
        () -> {
          SqlStatement statement = ReadingCursor.asking(session, condition + order);
          try {
            filling.into(statement.slots());
            return new ReadingCursor(session, statement, run);
          } catch (SQLException e) {
            statement.close();
            throw e;
          }
        });
  }

  /**
   * How many readings there are.
   *
   * @return 0 or more
   */
  public long readingCount() {
    return read(() -> PointSqlRows.readings(session, run));
  }

  /**
   * How many readings each point has.
   *
   * @param most how many points, the first ones
   * @return by the number of the point
   */
  public Map<Long, Long> readingCounts(int most) {
    return read(() -> PointSqlRows.readings(session, run, most));
  }

  /**
   * Its incidents.
   *
   * @return in the order of writing
   */
  public List<Incident> incidents() {
    return read(() -> IncidentSqlRows.incidents(session, run));
  }

  /**
   * Its steps, written ahead.
   *
   * @return in the order of beginning
   */
  public List<StepEntry> steps() {
    return read(() -> IncidentSqlRows.steps(session, run));
  }

  /**
   * The instruments that it used.
   *
   * @return in the order of noting
   */
  public List<InstrumentEntry> instruments() {
    return read(() -> BenchSqlRows.instruments(session, run));
  }

  /**
   * The set-up that the unit was measured in.
   *
   * @return empty if none was noted
   */
  public Optional<FixtureSetUp> setUp() {
    Optional<Long> number = summary().setUp();
    return number.flatMap(n -> read(() -> BenchSqlRows.setUp(session, n)));
  }

  /**
   * The files it was made from.
   *
   * @return in the order of keeping
   */
  public List<RunInputFile> files() {
    return read(() -> FileSqlRows.list(session, run));
  }

  /**
   * The content of a small file.
   *
   * @param file one of {@link #files}
   * @return all of it
   */
  public byte[] content(RunInputFile file) {
    try (InputStream in = open(file)) {
      return in.readAllBytes();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /**
   * The content of a small file that the logbook keeps for a judging.
   *
   * @param sha256 its hash, which an {@link RunEvaluation} names
   * @return all of it
   */
  public byte[] content(String sha256) {
    return content(new RunInputFile(FileRole.OTHER, sha256, sha256, 0));
  }

  /**
   * The content of a file of any length.
   *
   * @param file one of {@link #files}
   * @return its bytes, read piece by piece; close it
   */
  public InputStream open(RunInputFile file) {
    return new StoredFileStream(
        number -> read(() -> FileSqlRows.piece(session, file.sha256(), number)));
  }

  /**
   * How many points are flagged, skipped or were left open.
   *
   * @return 0 or more
   */
  public long doubtfulPoints() {
    return read(
        () ->
            session
                .one(
                    "SELECT count(*) FROM point" + PointSqlRows.OF_RUN + " AND state <> 'complete'",
                    slots -> slots.whole(run),
                    SqlQueryRow::whole)
                .orElse(0L));
  }

  /**
   * The elapsed time of the run. Readings of a point are numbered in the order of taking, so of a
   * long record only the last are looked at.
   *
   * @return the largest elapsed time of any step, point or incident; zero for none
   */
  public Duration lastElapsed() {
    return read(() -> RunSqlRows.lastElapsed(session, run));
  }

  /**
   * How often it was judged.
   *
   * @return the oldest first
   */
  public List<RunEvaluation> evaluations() {
    return read(() -> ResultSqlRows.evaluations(session, run));
  }

  /**
   * The results of one judging.
   *
   * @param evaluation one of {@link #evaluations}
   * @return in the order of saving
   */
  public List<Result> results(RunEvaluation evaluation) {
    return read(() -> ResultSqlRows.results(session, run, evaluation));
  }

  /**
   * The results of one judging without their budgets, which is many times faster where many runs
   * are looked at.
   *
   * @param evaluation one of {@link #evaluations}
   * @return in the order of saving; budgets are empty
   */
  public List<Result> resultsAlone(RunEvaluation evaluation) {
    return read(() -> ResultSqlRows.resultsAlone(session, run, evaluation));
  }

  /**
   * Its later remarks.
   *
   * @return in the order of writing
   */
  public List<Remark> remarks() {
    return read(() -> RemarkSqlRows.list(session, run));
  }

  /**
   * The changes of its plan.
   *
   * @return in the order of changing
   */
  public List<PlanChange> planChanges() {
    return read(() -> PlanChangeSqlRows.list(session, run));
  }

  /**
   * The seal of the run as it stands: its digest with every change of its plan, judging, note and
   * signature.
   *
   * @return 64 hexadecimal digits; empty if the run has not ended, was not judged and its plan not
   *     changed
   */
  public Optional<String> seal() {
    return read(() -> RunSealChain.seal(session, run));
  }

  /**
   * Computes the digest of the data as they stand.
   *
   * @return 64 hexadecimal digits
   */
  public String digest() {
    return read(() -> RunDigest.of(session, run));
  }
}
