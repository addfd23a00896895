// SPDX-License-Identifier: Apache-2.0
package millrace.watch.live;

import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.Executor;
import java.util.concurrent.Future;
import java.util.concurrent.FutureTask;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.Function;
import millrace.assessment.Assessment;
import millrace.evidence.RunOrigin;
import millrace.fault.MillraceException;
import millrace.fault.NotAnalysableException;
import millrace.logbook.Logbook;
import millrace.logbook.LogbookPlace;
import millrace.logbook.RunReader;
import millrace.logbook.RunState;
import millrace.night.StoredRunPlan;
import millrace.time.SystemClock;
import millrace.watch.page.AskedPiece;
import millrace.watch.page.RunPieces;
import millrace.watch.page.RunSnapshot;

/**
 * A run for its page: read at most once a second however many readers it has, and assessed in the
 * background after new points, for at most a twentieth of the time. Thread-safe.
 */
public final class LiveRun {
  private static final Duration FRESH = Duration.ofMillis(900);
  private static final Duration FIRST_WITHIN = Duration.ofMillis(300);
  private static final Duration LEAST_BETWEEN = Duration.ofSeconds(4);
  private static final int SHARE = 20;
  private static final int MOST_ASKED = 20;

  private final LogbookPlace logbook;
  private final long id;
  private final String pageToken;
  private final Assessing assessing;
  private final SystemClock time = new SystemClock();
  private final List<AskedPiece.Asked> asked = new ArrayList<>();
  private final Map<String, String> assessedPieces = new LinkedHashMap<>();
  private Map<String, String> pieces = Map.of();
  private Optional<RunSnapshot> look = Optional.empty();
  private Optional<StoredRunPlan> plan = Optional.empty();
  private Optional<Assessment> assessment = Optional.empty();
  private Optional<Future<?>> under = Optional.empty();
  private Optional<LogbookStamp> readAt = Optional.empty();
  private int changes = -1;
  private String assessedAt = "";
  private boolean toAssess = true;
  private boolean drawnAll;
  private SystemClock.Deadline fresh = SystemClock.deadline(Duration.ZERO);
  private SystemClock.Deadline assessAgain = SystemClock.deadline(Duration.ZERO);

  /**
   * The thread that assesses.
   *
   * @param thread takes one run after another
   * @param assessor computes the results so far
   * @param faults takes what fails by a fault of ours
   */
  record Assessing(Executor thread, Function<RunReader, Assessment> assessor, OwnFaults faults) {}

  /**
   * An attempt to assess the run.
   *
   * @param assessment the results; empty if there are none
   * @param pieces HTML by the name of the piece
   * @param again true if the same readings are assessed again later
   */
  private record Tried(Optional<Assessment> assessment, Map<String, String> pieces, boolean again) {
    static final Tried NOTHING_YET = new Tried(Optional.empty(), Map.of(), false);
    static final Tried BUSY = new Tried(Optional.empty(), Map.of(), true);
    static final Tried FAULT = new Tried(Optional.empty(), RunPieces.unassessed(), false);
  }

  LiveRun(LogbookPlace logbook, long id, String pageToken, Assessing assessing) {
    this.logbook = logbook;
    this.id = id;
    this.pageToken = pageToken;
    this.assessing = assessing;
  }

  /**
   * The content of a page.
   *
   * @param look the run
   * @param pieces HTML by the name of the piece
   */
  public record Shown(RunSnapshot look, Map<String, String> pieces) {}

  /**
   * The present run, at most a second old.
   *
   * @return the content of its page
   * @throws MillraceException if the logbook cannot be read
   */
  public synchronized Shown shown() {
    if (look.isEmpty() || fresh.passed()) {
      read();
      fresh = SystemClock.deadline(FRESH);
    }
    return new Shown(look.orElseThrow(), pieces);
  }

  /**
   * The same when a page is opened: a short run is assessed before it is shown.
   *
   * @return the content of its page
   */
  public Shown opened() {
    Shown first = shown();
    Optional<Future<?>> waited = assessmentUnderWay();
    if (waited.isEmpty()) {
      return first;
    }
    try {
      waited.get().get(FIRST_WITHIN.toMillis(), TimeUnit.MILLISECONDS);
    } catch (TimeoutException takesLonger) {
      return first; // the event stream sends it later
    } catch (ExecutionException e) {
      return first;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return first;
    }
    return again();
  }

  private synchronized Optional<Future<?>> assessmentUnderWay() {
    return under;
  }

  private synchronized Shown again() {
    draw(look.orElseThrow());
    return new Shown(look.orElseThrow(), pieces);
  }

  /** Notes a request until the run has received it. */
  synchronized void asked(String text) {
    int before = AskedPiece.heard(look.orElseThrow().happened().incidents(), text);
    asked.add(new AskedPiece.Asked(text, before, time.now()));
    if (asked.size() > MOST_ASKED) {
      asked.remove(0);
    }
    drawnAll = false;
    fresh = SystemClock.deadline(Duration.ZERO);
  }

  /** A run that nobody writes is read again only when something was written to its logbook. */
  private void read() {
    LogbookStamp stamp = LogbookStamp.of(logbook, time.now());
    boolean same = readAt.filter(before -> before.isUnchangedAt(stamp)).isPresent();
    boolean quiet = look.filter(l -> l.run().state() != RunState.UNFINISHED).isPresent();
    if (same && quiet && !waiting()) {
      return;
    }
    try (Logbook book = logbook.readOnly()) {
      RunReader reader = book.reader(id);
      replan(reader);
      RunSnapshot now = RunSnapshot.of(book, id, plan, time.now());
      if (look.filter(l -> l.run().state() != now.run().state()).isPresent()) {
        assessAgain = SystemClock.deadline(Duration.ZERO); // an end is shown as one at once
      }
      look = Optional.of(now);
      String written = now.points().size() + " " + now.run().state() + " " + notes(reader);
      if (under.isEmpty() && assessAgain.passed() && !written.equals(assessedAt)) {
        FutureTask<?> task = new FutureTask<>(() -> assess(written), null);
        under = Optional.of(task);
        assessing.thread().execute(task);
      }
      toAssess = !written.equals(assessedAt);
      draw(now);
      readAt = Optional.of(stamp);
    }
  }

  /** Whether something is to come without a change of the logbook. */
  private boolean waiting() {
    return toAssess || !drawnAll;
  }

  /** Remarks may exclude points from results or include them again. */
  private static int notes(RunReader reader) {
    return reader.remarks().size();
  }

  private void replan(RunReader reader) {
    boolean begunFromFiles = reader.summary().start().origin() != RunOrigin.IMPORTED;
    int now = reader.planChanges().size();
    // The files of a new run appear a moment after the run.
    if (begunFromFiles && now != changes && !reader.files().isEmpty()) {
      plan = Optional.of(StoredRunPlan.of(reader));
      changes = now;
    }
  }

  private void draw(RunSnapshot now) {
    boolean writable = !pageToken.isEmpty();
    Map<String, String> drawn =
        new LinkedHashMap<>(
            RunPieces.quick(now, assessment, List.copyOf(asked), writable ? pageToken : ""));
    drawn.putAll(assessedPieces);
    pieces = Map.copyOf(drawn);
    drawnAll = true;
  }

  private void assess(String written) {
    Duration began = time.elapsed();
    Tried tried = Tried.BUSY;
    try (Logbook book = logbook.readOnly()) {
      RunReader reader = book.reader(id);
      Assessment now = assessing.assessor().apply(reader);
      tried = new Tried(Optional.of(now), RunPieces.assessed(shown().look(), now, reader), false);
    } catch (NotAnalysableException tooFewPoints) {
      tried = Tried.NOTHING_YET;
    } catch (MillraceException busy) {
      tried = Tried.BUSY; // such as a logbook that is locked for a moment
    } catch (RuntimeException | Error ours) {
      assessing.faults().add(ours);
      tried = Tried.FAULT;
    } finally {
      taken(written, tried, time.elapsed().minus(began));
    }
  }

  private synchronized void taken(String written, Tried tried, Duration took) {
    under = Optional.empty();
    assessedAt = tried.again() ? assessedAt : written;
    Duration pause = took.multipliedBy(SHARE);
    boolean over = look.filter(l -> l.run().state() != RunState.UNFINISHED).isPresent();
    assessAgain =
        SystemClock.deadline(over || pause.compareTo(LEAST_BETWEEN) < 0 ? LEAST_BETWEEN : pause);
    if (tried.assessment().isPresent()) {
      assessment = tried.assessment();
      assessedPieces.clear();
    }
    assessedPieces.putAll(tried.pieces());
    drawnAll = false;
    fresh = SystemClock.deadline(Duration.ZERO);
  }
}
