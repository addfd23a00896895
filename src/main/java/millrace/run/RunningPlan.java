// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import millrace.evidence.IncidentKind;
import millrace.logbook.AddedTemperature;
import millrace.logbook.PlanChange;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.run.control.RunRequestFile.Asked;
import millrace.run.control.RunRequestFile.Asker;
import millrace.run.control.WhatNext;
import millrace.run.interlock.InterlockWaiting;
import millrace.run.interlock.RemoteRequestHandler;
import millrace.run.journal.ChangedPlan;
import millrace.run.journal.Journal;
import millrace.run.journal.RunContext;
import millrace.run.soak.BenchSpeedsFromFile;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Plan.TemperatureRule;
import millrace.sequence.Schedule;

/**
 * The plan of a run in progress. A change is written to the logbook before it takes effect, so that
 * a resumed run has the same plan. Single-threaded.
 */
final class RunningPlan implements RemoteRequestHandler.PlanRequests {
  private final RunContext setting;
  private final Journal journal;
  private final InterlockWaiting waiting;
  private int lookedBefore = -1;
  private ChangedPlan changed;
  private Plan plan;
  private Schedule schedule;
  private int place;

  RunningPlan(RunContext setting, Journal journal, InterlockWaiting waiting) {
    this.setting = setting;
    this.journal = journal;
    this.waiting = waiting;
    this.changed = setting.plan();
    this.plan = changed.plan();
    this.schedule = schedule();
  }

  private Schedule schedule() {
    return Schedule.of(plan, setting.datasheet(), BenchSpeedsFromFile.of(setting.bench().file()));
  }

  /** The points in their order; those after the current one may still change. */
  List<PlannedPoint> points() {
    return plan.points();
  }

  /**
   * The point at a place, from 0, which is under way from here on. Before the first of another stay
   * the plan is looked at again.
   */
  Optional<PlannedPoint> at(int place) {
    this.place = place;
    PlannedPoint point = points().get(place);
    boolean done = setting.before().done().contains(point.key());
    if (!done && without(point).isEmpty() && isElsewhere(point)) {
      lookAgain();
    }
    Optional<PlannedPoint> now = points().stream().skip(place).findFirst();
    now.flatMap(PlannedPoint::temperature).ifPresent(t -> lookedBefore = t.visit());
    return now;
  }

  private boolean isElsewhere(PlannedPoint point) {
    return point.temperature().filter(t -> t.visit() != lookedBefore).isPresent();
  }

  private void lookAgain() {
    List<PlannedPoint> toGo =
        points().stream()
            .skip(place)
            .filter(p -> without(p).isEmpty() && !setting.before().done().contains(p.key()))
            .toList();
    WhatNext.Ahead ahead = new WhatNext.Ahead(journal.run(), toGo, journal.elapsed());
    WhatNext.Answer answer = waiting.whileComputed(() -> setting.next().before(ahead));
    answer.note().ifPresent(text -> journal.incident(IncidentKind.NOTE, text));
    answer
        .trouble()
        .ifPresent(
            why ->
                journal.incident(IncidentKind.CAUTION, "the plan was not looked at again: " + why));
    answer.changes().forEach(this::change);
  }

  /** The time from a point to the end, estimated. */
  Duration leftFrom(PlannedPoint point) {
    return schedule.leftFrom(point);
  }

  @Override
  public Optional<String> without(PlannedPoint point) {
    return changed.why(point);
  }

  @Override
  public void skip(Asked asked, PlannedPoint at) {
    Optional<Integer> stay = at.temperature().map(TemperatureRule::visit);
    if (stay.isEmpty()) {
      journal.incident(IncidentKind.CAUTION, "no temperature is skipped: none is under way");
      return;
    }
    List<String> keys =
        points().stream()
            .skip(place)
            .filter(p -> p.temperature().map(TemperatureRule::visit).equals(stay))
            .map(PlannedPoint::key)
            .toList();
    String words =
        "what is left of stay %s, %s"
            .formatted(
                stay.get() + 1,
                QuantityText.print(
                    at.conditions().temperatureDegC().orElseThrow(), Dimension.TEMPERATURE));
    change(PlanChange.Kind.SKIP_TEMPERATURE, words, keys, asked.by());
  }

  @Override
  public void add(Asked asked, PlannedPoint at) {
    Optional<Integer> stay = stay(plan, at);
    if (stay.isEmpty()) {
      journal.incident(
          IncidentKind.CAUTION, "no temperature is added: none is under way, and none follows");
      return;
    }
    String words = new AddedTemperature(asked.degC().orElseThrow(), stay.get()).words();
    change(PlanChange.Kind.ADD_TEMPERATURE, words, List.of(), asked.by());
  }

  /** The stay at a temperature to which a point belongs, else the next one. */
  private static Optional<Integer> stay(Plan plan, PlannedPoint at) {
    return plan.points().stream()
        .skip(plan.placeOf(at))
        .flatMap(p -> p.temperature().stream())
        .map(TemperatureRule::visit)
        .findFirst();
  }

  private void change(PlanChange.Kind kind, String words, List<String> keys, Asker by) {
    String reason = by.because().isEmpty() ? "asked from another terminal" : by.because();
    String who = by.who().isEmpty() ? "somebody at another terminal" : by.who();
    change(new PlanChange.Draft(kind, words, keys, reason, who));
  }

  private void change(PlanChange.Draft draft) {
    changed = changed.with(journal.changed(draft));
    plan = changed.plan();
    schedule = schedule();
  }
}
