// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import millrace.document.FileMessageText;
import millrace.evidence.Incident;
import millrace.evidence.Point;
import millrace.evidence.PointNumber;
import millrace.evidence.PointState;
import millrace.evidence.Reading;

/**
 * Writes one run. Every method but {@link #stepEnded} is one transaction, on the disk when it
 * returns; a point, its readings and its incidents are one. Only one writer of a run exists at a
 * time, over all processes. One thread at a time; several runs may be written by as many writers of
 * one logbook. Closing it without {@link #end} leaves the run unfinished, to be resumed.
 */
public final class RunWriter implements AutoCloseable {
  private final SqlSession session;
  private final RunLock lock;
  private final long run;
  private final UUID uuid;
  private final ReadingSqlRows readings;
  private final WrittenPointHash points;
  private final Map<Long, StepEntry.End> ended = new LinkedHashMap<>();
  private Last last;

  /** The last point that was taken, and the last place of the plan that any was taken at. */
  private record Last(long point, int place) {}

  RunWriter(SqlSession session, RunLock lock, long run, UUID uuid) {
    this.session = session;
    this.lock = lock;
    this.run = run;
    this.uuid = uuid;
    this.last =
        session.query(
            "counting points",
            () ->
                session
                    .one(
                        "SELECT coalesce(max(number), 0), coalesce(max(place), 0) FROM point"
                            + " WHERE run_id = ?",
                        slots -> slots.whole(run),
                        row -> new Last(row.whole(), (int) row.whole()))
                    .orElse(new Last(0, 0)));
    this.readings = new ReadingSqlRows(session, run, last.point() > 0);
    this.points = new WrittenPointHash(session, last.point() > 0);
  }

  /**
   * The run's local number.
   *
   * @return from 1
   */
  public long run() {
    return run;
  }

  /**
   * The run's number everywhere.
   *
   * @return a UUID of version 7
   */
  public UUID uuid() {
    return uuid;
  }

  /**
   * The file that is written.
   *
   * @return as it was named
   */
  public Path logbook() {
    return session.path();
  }

  /**
   * Whether the logbook is thrown away with the run.
   *
   * @return true for a computed run, of which nobody asks anything
   */
  public boolean isTemporary() {
    return session.isTemporary();
  }

  private void write(String attempt, SqlSession.Act act) {
    write(
        attempt,
        () -> {
          act.run();
          return true;
        });
  }

  /** Cached numbers of a transaction are dropped when it is rolled back. */
  private <T> T write(String attempt, SqlSession.Work<T> work) {
    Last before = last;
    boolean done = false;
    try {
      T answer =
          session.transaction(
              attempt + " of run " + run,
              () -> {
                writeEnded();
                return work.run();
              });
      done = true;
      ended.clear();
      return answer;
    } finally {
      if (!done) {
        last = before;
        readings.forget();
      }
    }
  }

  /**
   * Stores an input file; equal content is stored once.
   *
   * @param role what it is for the run
   * @param name its name as the user gave it
   * @param content what it holds
   * @return the file as kept
   */
  public RunInputFile file(FileRole role, String name, byte[] content) {
    return write(
        "keeping '" + name + "'",
        () -> {
          RunInputFile file = FileSqlRows.insert(session, role, name, content);
          FileSqlRows.link(session, run, file);
          return file;
        });
  }

  /**
   * Keeps an input file of any length.
   *
   * @param file its name, hash and length
   * @param content what it holds; not closed
   * @throws millrace.fault.LogbookException also if the content cannot be read or does not have
   *     that hash
   */
  public void file(RunInputFile file, InputStream content) {
    write(
        "keeping '" + file.name() + "'",
        () -> {
          try {
            FileSqlRows.insert(session, file, content);
          } catch (IOException e) {
            throw session
                .engine()
                .refusal(
                    "'" + file.name() + "' cannot be kept: " + FileMessageText.reason(e),
                    "Try again while nothing else writes it.");
          }
          FileSqlRows.link(session, run, file);
        });
  }

  /**
   * Notes an instrument; a second entry of the same name is a replacement.
   *
   * @param entry the instrument as found
   */
  public void instrument(InstrumentEntry entry) {
    write("noting an instrument", () -> BenchSqlRows.insert(session, run, entry));
  }

  /**
   * Notes the set-up that the unit is measured in.
   *
   * @param setUp fixture and cables
   * @return the number of the set-up, the same whenever it is the same
   */
  public long setUp(FixtureSetUp setUp) {
    return write(
        "noting the set-up",
        () -> {
          long number = BenchSqlRows.setUp(session, setUp);
          session.change(
              "UPDATE run SET setup_id = ? WHERE id = ?", slots -> slots.whole(number).whole(run));
          return number;
        });
  }

  /**
   * Records that a step begins, before it does.
   *
   * @param key its stable name within the run
   * @param what what it is to do, in words
   * @param elapsed elapsed time of the run
   * @return its number, for {@link #stepEnded}
   */
  public long stepStarted(String key, String what, Duration elapsed) {
    return write(
        "beginning step '" + key + "'",
        () ->
            IncidentSqlRows.stepStarted(
                session, run, new StepEntry(0, key, what, elapsed, Optional.empty())));
  }

  /**
   * Records that a step ended. The record is committed with the next write, at the latest when this
   * is closed: the points of the step are on the disk already, and a commit of its own would make
   * each point wait for the disk once more.
   *
   * @param step its number
   * @param outcome in words
   * @param elapsed elapsed time of the run
   */
  public void stepEnded(long step, String outcome, Duration elapsed) {
    ended.put(step, new StepEntry.End(elapsed, outcome));
  }

  private void writeEnded() throws SQLException {
    for (Map.Entry<Long, StepEntry.End> each : ended.entrySet()) {
      IncidentSqlRows.stepEnded(session, each.getKey(), each.getValue());
    }
  }

  /**
   * Writes an incident outside a point's own transaction.
   *
   * @param incident what happened
   */
  public void incident(Incident incident) {
    write("noting an incident", () -> IncidentSqlRows.insert(session, run, incident));
  }

  /**
   * Writes that the plan was changed, and seals it.
   *
   * @param change what, why and by whom
   */
  public void planChange(PlanChange change) {
    write(
        "noting a change of the plan",
        () ->
            RunSealChain.add(
                session,
                run,
                RunSealChain.Kind.PLAN_CHANGE,
                PlanChangeSqlRows.insert(session, run, change)));
  }

  /**
   * Writes a whole point with its readings and incidents, all or none.
   *
   * @param point the point; its id is not looked at
   * @param taken its readings, in the order of taking
   * @param incidents what happened meanwhile
   * @return the point with its number in the run
   */
  public Point commit(Point point, List<Reading> taken, List<Incident> incidents) {
    if (point.state() == PointState.OPEN) {
      throw new IllegalArgumentException("a point that is committed whole is not open");
    }
    return write(
        "committing point '" + point.key() + "'",
        () -> {
          Point numbered = numbered(point);
          points.unsure();
          readings.insert(PointSqlRows.insert(session, run, numbered), 0, taken);
          for (Incident each : incidents) {
            IncidentSqlRows.insert(session, run, each);
          }
          return numbered;
        });
  }

  /**
   * Writes whole points with readings taken elsewhere, all or none.
   *
   * @param imported the points, in the order of the file
   */
  public void commitImported(List<ImportedPoint> imported) {
    write(
        "committing imported points",
        () -> {
          long first = PointSqlRows.next(session);
          List<Point> numbered = new ArrayList<>(imported.size());
          for (ImportedPoint each : imported) {
            numbered.add(numbered(each.point()));
          }
          PointSqlRows.insert(session, run, first, numbered);
          for (int i = 0; i < numbered.size(); i++) {
            Point point = numbered.get(i);
            points.add(point);
            readings.insertImported(first + i, point.id(), 0, imported.get(i).readings());
          }
          readings.flushed();
        });
  }

  /** A place of the plan without points yet, the usual case, needs no query. */
  private Point numbered(Point p) throws SQLException {
    PointNumber asked = p.number();
    PointNumber number =
        asked.place() > last.place() ? asked.first() : PointSqlRows.free(session, run, asked);
    last = new Last(last.point() + 1, Math.max(last.place(), asked.place()));
    return p.numbered(last.point(), number);
  }

  /**
   * Begins a point whose readings come in pieces: time series, soaks, imports.
   *
   * @param point the point, in state open; its id is not looked at
   * @return where to append
   */
  public OpenPoint open(Point point) {
    if (point.state() != PointState.OPEN) {
      throw new IllegalArgumentException("a point that is begun is open");
    }
    return write(
        "beginning point '" + point.key() + "'",
        () -> {
          Point numbered = numbered(point);
          points.unsure();
          return new OpenPoint(numbered, PointSqlRows.insert(session, run, numbered));
        });
  }

  /** A point that readings are still added to. One thread at a time, the thread of the writer. */
  public final class OpenPoint {
    private final Point point;
    private final long row;
    private long count;

    private OpenPoint(Point point, long row) {
      this.point = point;
      this.row = row;
    }

    /**
     * Adds readings.
     *
     * @param more in the order of taking
     */
    public void append(List<Reading> more) {
      write("adding to point '" + point.key() + "'", () -> readings.insert(row, count, more));
      count += more.size();
    }

    /**
     * Adds readings taken elsewhere.
     *
     * @param more in the order of the file
     */
    public void appendImported(List<ImportedReading> more) {
      write(
          "adding to point '" + point.key() + "'",
          () -> {
            readings.insertImported(row, point.id(), count, more);
            readings.flushed();
          });
      count += more.size();
    }

    /**
     * Closes the point for good.
     *
     * @param end the point as it ended: state, reason, end and settings are taken from it
     */
    public void close(Point end) {
      if (end.state() == PointState.OPEN) {
        throw new IllegalArgumentException("a point that is closed is not open");
      }
      write("closing point '" + point.key() + "'", () -> PointSqlRows.close(session, row, end));
    }
  }

  /**
   * Closes every point that an interrupted process left open.
   *
   * @param reason why it is flagged
   * @return how many there were
   */
  public int closeInterrupted(String reason) {
    return write(
        "closing interrupted points",
        () ->
            session.change(
                "UPDATE point SET state = 'flagged', reason = ? WHERE run_id = ? AND state ="
                    + " 'open'",
                slots -> slots.text(reason).whole(run)));
  }

  /**
   * Ends the run, stores the digest of its data, and empties the write-ahead log into the file so
   * that it can be copied or read from a read-only folder.
   *
   * @param state how far it got; not unfinished
   * @param remark why it ended so; may be empty
   * @param at wall clock
   */
  public void end(RunState state, String remark, Instant at) {
    if (state == RunState.UNFINISHED) {
      throw new IllegalArgumentException("a run that ends is no longer unfinished");
    }
    write("ending it", () -> store(state, remark, at));
    if (!session.isTemporary()) {
      WalCheckpoints.whenPossible(session);
    }
  }

  private void store(RunState state, String remark, Instant at) throws SQLException {
    session.change(
        "UPDATE run SET state = ?, remark = ?, ended_at = ? WHERE id = ?",
        slots -> slots.text(state.text()).text(remark).instant(at).whole(run));
    if (!session.isTemporary()) {
      seal();
    }
  }

  private void seal() throws SQLException {
    Map<RunDigest.Part, String> known = new EnumMap<>(RunDigest.Part.class);
    points.hex().ifPresent(digest -> known.put(RunDigest.Part.POINT, digest));
    readings.digest().ifPresent(digest -> known.put(RunDigest.Part.READING, digest));
    RunSealChain.add(session, run, RunSealChain.Kind.END, RunDigest.store(session, run, known));
  }

  /** Releases the run; a run without an end can be resumed. */
  @Override
  public void close() {
    try {
      if (!ended.isEmpty()) {
        write("ending a step", () -> {});
      }
    } finally {
      lock.close();
    }
  }
}
