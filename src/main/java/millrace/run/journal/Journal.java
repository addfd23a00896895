// SPDX-License-Identifier: Apache-2.0
package millrace.run.journal;

import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.evidence.Point;
import millrace.evidence.Reading;
import millrace.fault.OutputException;
import millrace.logbook.PlanChange;
import millrace.logbook.RunState;
import millrace.logbook.RunWriter;
import millrace.run.control.NightRequests;
import millrace.run.control.RunObserver;
import millrace.sequence.Plan.PlannedPoint;
import millrace.time.TimeSource;

/**
 * Writes to the logbook first, then informs observers. Keeps the elapsed time of the run, which
 * continues from where an earlier session of the run ended. Single-threaded.
 */
public final class Journal {
  private final NightRunWriters writers;
  private final TimeSource time;
  private final Duration base;
  private Duration offset;
  private final List<RunObserver> observers;
  private Optional<String> point = Optional.empty();
  private Optional<String> slot = Optional.empty();

  /**
   * The journal of a run, which goes on where an earlier session ended.
   *
   * @param setting what the run was given
   */
  public Journal(RunContext setting) {
    writers = setting.writers();
    time = setting.time();
    base = time.elapsed();
    offset = setting.before().elapsed();
    observers = new ArrayList<>(setting.observers());
  }

  /** Elapsed time of the run. */
  public Duration elapsed() {
    return time.elapsed().minus(base).plus(offset);
  }

  /**
   * Adds time that passed for the bench but was not counted by the clock, because the machine
   * slept.
   */
  public void passed(Duration uncounted) {
    offset = offset.plus(uncounted);
  }

  /** Whether what goes on belongs to a point. */
  public boolean isAtPoint() {
    return point.isPresent();
  }

  /** The number of the first run: messages about the whole night name it. */
  public long run() {
    return writers.first().run();
  }

  /** The numbers of all runs of the night. */
  public List<Long> runs() {
    return writers.all().stream().map(RunWriter::run).toList();
  }

  /** The logbook file. */
  public Path logbook() {
    return writers.first().logbook().toAbsolutePath();
  }

  /** Requests from other terminals, made from now on. */
  public NightRequests requests() {
    RunWriter first = writers.first();
    return first.isTemporary() ? NightRequests.NONE : NightRequests.of(logbook(), runs());
  }

  /** From here on entries belong to a point. */
  public void at(PlannedPoint planned) {
    point = Optional.of(planned.key());
    slot = planned.conditions().slot();
  }

  /** From here on entries belong to no point. */
  public void betweenPoints() {
    point = Optional.empty();
    slot = Optional.empty();
  }

  Incident entry(IncidentKind kind, String text) {
    return new Incident(kind, point, text, time.now(), elapsed());
  }

  /**
   * Stores an incident of the unit being measured, or of all units if there is none.
   *
   * @param kind what it is
   * @param text what happened, in words
   */
  public void incident(IncidentKind kind, String text) {
    incident(slot, kind, text);
  }

  /** An incident of one unit, or of all where no slot is named. */
  public void incident(Optional<String> where, IncidentKind kind, String text) {
    Incident incident = entry(kind, text);
    writers.of(where).forEach(w -> w.incident(incident));
    tell(o -> o.incident(incident));
  }

  /** Informs observers of an incident that the logbook could not store. */
  public void sayAnyway(IncidentKind kind, String text) {
    Incident incident = entry(kind, text);
    for (RunObserver observer : observers) {
      try {
        observer.incident(incident);
      } catch (RuntimeException notHeard) {
        // the others must still be informed, and the logbook cannot take it
      }
    }
  }

  /**
   * Stores a change of the plan, then informs observers.
   *
   * @param draft what is changed
   * @return the change as kept
   */
  public PlanChange changed(PlanChange.Draft draft) {
    PlanChange change = draft.at(time.now(), elapsed());
    writers.all().forEach(w -> w.planChange(change));
    tell(o -> o.changed(change.inOneLine()));
    return change;
  }

  /**
   * Stores a point, then informs observers.
   *
   * @param taken the point as it is done
   * @param readings what was read at it
   * @return the point with its number in the logbook
   */
  public Point commit(Point taken, List<Reading> readings) {
    Point numbered = taken;
    for (RunWriter writer : writers.of(taken.conditions().slot())) {
      numbered = writer.commit(taken, readings, List.of());
    }
    Point shown = numbered;
    tell(o -> o.committed(shown, readings));
    return numbered;
  }

  /** Begins a point whose readings come over time. */
  public RunWriter.OpenPoint open(Point begun) {
    return writers.of(begun.conditions().slot()).get(0).open(begun);
  }

  /** A step that is begun, in the run that it belongs to. */
  public record Begun(RunWriter writer, long step) {}

  /**
   * Notes that a step has begun.
   *
   * @param planned where in the plan
   * @param what it does, in words
   * @return what ends it
   */
  public Begun stepStarted(PlannedPoint planned, String what) {
    RunWriter writer = writers.of(planned.conditions().slot()).get(0);
    return new Begun(writer, writer.stepStarted(planned.key(), what, elapsed()));
  }

  /**
   * Notes how a step ended.
   *
   * @param begun the step
   * @param outcome in words
   */
  public void stepEnded(Begun begun, String outcome) {
    begun.writer().stepEnded(begun.step(), outcome, elapsed());
  }

  /**
   * Ends every run that is written.
   *
   * @param state how it ended
   * @param remark why, or empty
   */
  public void end(RunState state, String remark) {
    writers.all().forEach(w -> w.end(state, remark, time.now()));
  }

  /** Why a point needs not be measured, if an observer says so. */
  public Optional<String> unneeded(PlannedPoint next) {
    List<String> reasons = new ArrayList<>();
    tell(o -> o.unneeded(next).ifPresent(reasons::add));
    return reasons.stream().findFirst();
  }

  /** A call of an observer. */
  public interface News {
    void to(RunObserver observer);
  }

  /** Calls every observer; one that throws is noted and not called again. */
  public void tell(News news) {
    List<RunObserver> broken = new ArrayList<>();
    for (RunObserver observer : observers) {
      try {
        news.to(observer);
      } catch (RuntimeException e) {
        broken.add(observer);
        writers.first().incident(entry(IncidentKind.CAUTION, inWords(observer, e)));
      }
    }
    observers.removeAll(broken);
  }

  private static String inWords(RunObserver observer, RuntimeException e) {
    return e instanceof OutputException
        ? String.valueOf(e.getMessage())
        : "an observer (%s) failed and gets no more news: %s"
            .formatted(observer.getClass().getSimpleName(), e.getMessage());
  }
}
