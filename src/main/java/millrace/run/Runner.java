// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.bench.Bench;
import millrace.evidence.EarlyEnd;
import millrace.evidence.IncidentKind;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.fault.InstrumentException;
import millrace.fault.InterlockException;
import millrace.fault.MillraceException;
import millrace.fault.StoppedException;
import millrace.fault.TrialLapFailedException;
import millrace.fault.UnsafeBenchException;
import millrace.logbook.RunState;
import millrace.run.condition.ConditionSetter;
import millrace.run.condition.RunPosition;
import millrace.run.control.RunObserver;
import millrace.run.control.RunOutcome;
import millrace.run.control.StopListener;
import millrace.run.control.StopRequest;
import millrace.run.interlock.InterlockWaiting;
import millrace.run.interlock.RemoteRequestHandler;
import millrace.run.journal.Journal;
import millrace.run.journal.ResumeState;
import millrace.run.journal.RunContext;
import millrace.run.journal.WarmUp;
import millrace.run.plausibility.PointCredibilityCheck;
import millrace.run.reading.BegunPoint;
import millrace.run.reading.MeterZeros;
import millrace.run.reading.RunComponents;
import millrace.run.soak.Soak;
import millrace.run.soak.SoakEnd;
import millrace.sequence.ChamberTime;
import millrace.sequence.MeasuringRules.OnFailure;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Plan.TemperatureRule;
import millrace.sequence.Task;
import org.jspecify.annotations.Nullable;

/**
 * Executes a plan point by point and puts the bench in its safe state whatever happens: on the
 * normal end, on any failure, on a signal, on a breach. A point's readings are in the logbook
 * before the next point begins. Single-threaded; others may use the {@link StopRequest} of its
 * setting.
 */
public final class Runner {
  private static final int MOST_ATTEMPTS = 3;

  private final RunContext setting;
  private final RunComponents workers;
  private final Journal journal;
  private final InterlockWaiting waiting;
  private final ConditionSetter conditionSetter;
  private final PointCredibilityCheck pointCredibilityCheck;
  private final MeterZeros zeros;
  private final Soak soak;
  private final TaskPerformer tasks;
  private final RemoteRequestHandler remoteRequestHandler;
  private final WarmUp warmUp;
  private final RunningPlan plan;
  private final Map<String, String> stayTroubles = new HashMap<>();
  private final Map<String, String> skippedStays = new HashMap<>();
  private final List<String> skipped = new ArrayList<>();
  private final Map<String, String> dropped = new HashMap<>();
  private Optional<String> toldUnneeded = Optional.empty();
  private int stay = -1;
  private int complete;
  private int flagged;
  private int skippedPoints;
  private int leftOut;
  private int reached;

  /**
   * A runner for one run.
   *
   * @param setting everything that it needs
   */
  public Runner(RunContext setting) {
    this.setting = setting;
    this.workers = RunComponents.of(setting);
    this.journal = workers.journal();
    this.waiting = workers.waiting();
    this.conditionSetter = workers.station();
    this.pointCredibilityCheck = workers.vouching();
    this.zeros = workers.zeros();
    this.plan = new RunningPlan(setting, journal, waiting);
    this.remoteRequestHandler = new RemoteRequestHandler(journal, waiting, plan);
    this.soak = new Soak(setting, workers, remoteRequestHandler);
    this.tasks = new TaskPerformer(setting, workers);
    this.warmUp =
        new WarmUp(
            WarmUp.needs(setting.datasheet(), setting.bench().file()), setting.before().onFor());
  }

  /**
   * Runs to the end.
   *
   * @return what came of it
   * @throws MillraceException if the run could not be ended as planned; the bench was made safe
   *     before, and where that failed an {@link UnsafeBenchException} is thrown or attached
   */
  public RunOutcome run() {
    setting.stop().runsIn(Thread.currentThread());
    Throwable first = null;
    StopListener listener = new StopListener(journal.requests(), setting.stop());
    try (listener) {
      listener.start();
      waiting.hearing(remoteRequestHandler::listen);
      waiting.begin();
      begin();
      for (int i = 0; i < plan.points().size(); i++) { // it may change
        plan.at(i).ifPresent(this::onePoint);
      }
      conditionSetter.lookAtMeters();
    } catch (RuntimeException | Error e) {
      first = e; // a fault of the program too: the bench comes first
    }
    setting.stop().over();
    waiting.end();
    first = attach(first, safe());
    RunOutcome outcome = end(first);
    journal.tell(o -> o.ended(outcome));
    rethrow(first);
    return outcome;
  }

  private static void rethrow(@Nullable Throwable first) {
    if (first instanceof RuntimeException trouble) {
      throw trouble;
    } else if (first instanceof Error fault) {
      throw fault;
    }
  }

  private void begin() {
    boolean goesOn = !setting.before().done().isEmpty() || !setting.before().elapsed().isZero();
    int done =
        (int) plan.points().stream().filter(p -> setting.before().done().contains(p.key())).count();
    journal.incident(
        goesOn ? IncidentKind.RESUMED : IncidentKind.STARTED,
        goesOn ? "the run goes on with %s points done before".formatted(done) : "the run begins");
    if (!goesOn) {
      warmUp.text().ifPresent(text -> journal.incident(IncidentKind.OPERATOR, text));
    }
    journal.tell(o -> o.began(journal.run(), plan.points().size(), done));
  }

  private void onePoint(PlannedPoint point) {
    reached++;
    if (setting.before().done().contains(point.key())) {
      complete++;
      return;
    }
    Optional<String> without = without(point);
    if (without.isPresent()) {
      skip(point, without.get());
      return;
    }
    Optional<String> unneeded = journal.unneeded(point);
    if (unneeded.isPresent()) {
      leaveOut(point, unneeded.get());
      return;
    }
    if (skipped.stream().anyMatch(p -> String.join("/", point.path()).startsWith(p))) {
      skip(point, "its branch was skipped");
      return;
    }
    Optional<String> unwanted = remoteRequestHandler.before(point);
    if (unwanted.isPresent()) {
      passOver(point, unwanted.get());
      return;
    }
    journal.at(point);
    tellPlace(point, "");
    RunObserver.Ahead ahead =
        new RunObserver.Ahead(reached - 1, plan.points().size(), plan.leftFrom(point));
    journal.tell(o -> o.point(point, ahead));
    Journal.Begun step = journal.stepStarted(point, stepWord(point.task()));
    String outcome = attempt(point);
    journal.stepEnded(step, outcome);
    journal.betweenPoints();
  }

  /** What is known is enough without it; each reason is told once. */
  private void leaveOut(PlannedPoint point, String why) {
    if (!toldUnneeded.equals(Optional.of(why))) {
      toldUnneeded = Optional.of(why);
      journal.incident(IncidentKind.SKIP, "points are left out: " + why);
    }
    skip(point, EarlyEnd.because(why));
  }

  /** A person who sets and reads by hand is told for which point. */
  private void tellPlace(PlannedPoint point, String before) {
    String here = RunPosition.of(point, plan.points().size());
    setting
        .bench()
        .workplace()
        .at(before.isEmpty() ? here : before, point.conditions().temperatureDegC());
  }

  /**
   * Why a point is skipped because of its unit, for example a failed trial lap; empty if it is not.
   */
  private Optional<String> without(PlannedPoint point) {
    String slot = point.conditions().slot().orElse("");
    String visit = point.temperature().map(t -> stayOf(t.visit(), slot)).orElse("");
    return Optional.ofNullable(dropped.get(slot))
        .or(() -> Optional.ofNullable(skippedStays.get(visit)));
  }

  private static String stayOf(int visit, String slot) {
    return visit + " " + slot;
  }

  private static String stepWord(Task task) {
    return task.word().isEmpty() ? "measure" : task.word();
  }

  private String attempt(PlannedPoint point) {
    for (int attempt = 1; ; attempt++) {
      try {
        if (attempt == 1) {
          pointCredibilityCheck.begin();
        } else {
          pointCredibilityCheck.beginAgain();
        }
        waiting.look();
        comeToTemperature(point);
        Optional<String> unwanted = remoteRequestHandler.before(point);
        if (unwanted.isPresent()) {
          skip(point, unwanted.get());
          return "skipped";
        }
        Optional<String> without = without(point);
        if (without.isPresent()) {
          skip(point, without.get());
          return "left out";
        }
        if (remoteRequestHandler.wasPaused()) {
          workers.tampering().afterPause();
        }
        String slot = point.conditions().slot().orElse("");
        List<Point> points =
            tasks.perform(
                point,
                Optional.ofNullable(stayTroubles.get(stayOf(stay, slot)))
                    .or(() -> warmUp.trouble(journal.elapsed())));
        points.forEach(this::count);
        return ResumeState.DONE;
      } catch (TrialLapFailedException e) {
        return leftOut(point, e);
      } catch (InstrumentException e) {
        setting.stop().throwIfAsked(journal.run());
        journal.incident(
            IncidentKind.RETRY,
            "attempt %s of %s failed: %s".formatted(attempt, MOST_ATTEMPTS, e.getMessage()));
        conditionSetter.forget();
        if (attempt >= MOST_ATTEMPTS) {
          return failed(point, e);
        }
        waiting.sleep(Duration.ofSeconds(1L << attempt));
      }
    }
  }

  /** One of several units that fails its trial lap does not stop the others. */
  private String leftOut(PlannedPoint point, TrialLapFailedException e) {
    if (point.conditions().slot().isEmpty() || !setting.writers().several()) {
      throw e;
    }
    dropped.put(point.conditions().slot().get(), "its unit was left out after its trial lap");
    leftOut++;
    journal.incident(IncidentKind.SKIP, "the unit is left out: " + e.getMessage());
    return "left out";
  }

  private void count(Point point) {
    switch (point.state()) {
      case COMPLETE -> complete++;
      case FLAGGED -> flagged++;
      default -> skippedPoints++;
    }
  }

  private void comeToTemperature(PlannedPoint point) {
    if (point.temperature().isEmpty()) {
      return;
    }
    if (point.temperature().get().visit() == stay && soak.holds()) {
      return;
    }
    tellPlace(point, RunPosition.onTheWay(point));
    soak(point, point.temperature().get());
    tellPlace(point, "");
  }

  private void soak(PlannedPoint point, TemperatureRule rule) {
    int next = rule.visit();
    if (!soak.goesOn(next)) {
      soak.begin(Soak.key(point), watched(next));
    }
    if (rule.soaking()) {
      soak.lookIfDue();
      if (point.task().traits().contains(Task.Trait.NEAR)) {
        soak.comeNear(ChamberTime.KNEE_WITHIN_K);
      }
      return;
    }
    soak.finish().forEach((slot, end) -> heed(rule, slot, end));
    stay = next;
  }

  /** What the end of a soak means for the points of its unit. */
  private void heed(TemperatureRule rule, String slot, SoakEnd end) {
    end.trouble().ifPresent(t -> stayTroubles.put(stayOf(rule.visit(), slot), t));
    if (end.how() == SoakEnd.How.GONE) {
      dropped.put(slot, end.text());
    } else if (end.how() == SoakEnd.How.BOUND_HIT && rule.soak().whenBoundHit() == OnFailure.SKIP) {
      skippedStays.put(stayOf(rule.visit(), slot), end.text());
    }
  }

  /** The point of each unit and range whose current is watched during the soak. */
  private List<PlannedPoint> watched(int visit) {
    Map<String, PlannedPoint> first = new LinkedHashMap<>();
    for (PlannedPoint p : plan.points()) {
      boolean here =
          p.temperature().isPresent()
              && p.temperature().get().visit() == visit
              && !p.temperature().get().soaking()
              && p.conditions().range().isPresent();
      boolean live = p.task().traits().contains(Task.Trait.LOADED_UNIT);
      if (here && live && without(p).isEmpty()) {
        first.putIfAbsent(
            p.conditions().slot().orElse("") + " in " + p.conditions().range().orElse(""), p);
      }
    }
    return List.copyOf(first.values());
  }

  private String failed(PlannedPoint point, InstrumentException e) {
    OnFailure policy = point.rules().onFailure();
    if (policy == OnFailure.STOP) {
      throw e;
    }
    if (policy == OnFailure.SKIP && !point.path().isEmpty()) {
      String branch = String.join("/", point.path().subList(0, point.path().size() - 1));
      skipped.add(branch);
      journal.incident(IncidentKind.SKIP, "the branch '" + branch + "' is skipped");
    }
    skip(point, e.getMessage());
    return "failed";
  }

  /** Points that were skipped before the resume are already in the logbook. */
  private void passOver(PlannedPoint point, String why) {
    if (setting.before().skipped().contains(point.key())) {
      skippedPoints++;
    } else {
      skip(point, why);
    }
  }

  private void skip(PlannedPoint point, String why) {
    Optional<PointKind> kind = point.task().kind();
    if (kind.isEmpty()) {
      return;
    }
    if (kind.get() == PointKind.ZERO) {
      zeros.begin(point.conditions().range().orElse(""));
    }
    BegunPoint begun = BegunPoint.of(point, kind.get(), journal.elapsed());
    count(journal.commit(begun.skipped(why), List.of()));
  }

  private Optional<UnsafeBenchException> safe() {
    journal.betweenPoints();
    boolean interrupted = Thread.interrupted();
    try {
      List<Bench.Safety> report = setting.bench().makeSafe();
      List<String> troubles = new ArrayList<>();
      for (Bench.Safety each : report) {
        each.trouble()
            .map(t -> t.endsWith(".") ? t.substring(0, t.length() - 1) : t)
            .ifPresent(t -> troubles.add("'%s': %s".formatted(each.instrument(), t)));
      }
      String text =
          troubles.isEmpty()
              ? "the bench is in its safe state"
              : "THE BENCH MAY NOT BE SAFE: " + String.join("; ", troubles);
      note(text);
      return troubles.isEmpty()
          ? Optional.empty()
          : Optional.of(
              new UnsafeBenchException(
                  "the safe state could not be confirmed for "
                      + String.join("; ", troubles)
                      + ". Switch these off by hand now."));
    } finally {
      if (interrupted) {
        Thread.currentThread().interrupt();
      }
    }
  }

  /** The logbook itself may have failed; observers must still hear how the safe state ended. */
  private void note(String text) {
    try {
      journal.incident(IncidentKind.SAFE_STATE, text);
    } catch (MillraceException e) {
      journal.sayAnyway(IncidentKind.SAFE_STATE, text);
    }
  }

  private static @Nullable Throwable attach(
      @Nullable Throwable first, Optional<UnsafeBenchException> unsafe) {
    if (first == null || unsafe.isEmpty()) {
      return unsafe.isPresent() ? unsafe.get() : first;
    }
    first.addSuppressed(unsafe.get());
    return first;
  }

  private RunOutcome end(@Nullable Throwable first) {
    int toGo = plan.points().size() - reached + (first == null ? 0 : 1);
    RunOutcome outcome =
        new RunOutcome(journal.run(), complete, flagged, skippedPoints, toGo, leftOut);
    try {
      if (first == null) {
        journal.incident(IncidentKind.ENDED, "the run ended as planned");
        journal.end(RunState.COMPLETE, "");
      } else {
        journal.incident(IncidentKind.ENDED, "the run ended early: " + first.getMessage());
        boolean wanted =
            first instanceof StoppedException
                || first instanceof InterlockException
                || first instanceof TrialLapFailedException;
        journal.end(wanted ? RunState.STOPPED : RunState.FAILED, first.getMessage());
      }
    } catch (MillraceException e) {
      if (first == null) {
        throw e;
      }
      first.addSuppressed(e);
    }
    return outcome;
  }
}
