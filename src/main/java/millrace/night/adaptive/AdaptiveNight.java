// SPDX-License-Identifier: Apache-2.0
package millrace.night.adaptive;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import millrace.assessment.Assessor;
import millrace.bench.BenchFile;
import millrace.datasheet.Datasheet;
import millrace.fault.MillraceException;
import millrace.fault.NotAnalysableException;
import millrace.logbook.Logbook;
import millrace.logbook.PlanChange;
import millrace.logbook.ReadingBeside;
import millrace.logbook.RunFacts;
import millrace.planning.LimitForecast;
import millrace.planning.adaptive.NextStays;
import millrace.planning.adaptive.PlanRevision;
import millrace.planning.adaptive.RunStanding;
import millrace.planning.adaptive.StoppingRule;
import millrace.quantity.TimeSpanSeconds;
import millrace.run.control.WhatNext;
import millrace.run.journal.ChangedPlan;
import millrace.run.soak.BenchSpeedsFromFile;
import millrace.sequence.BenchSpeeds;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Schedule;

/**
 * Assesses the results of a run so far, each time before it goes to another temperature, and finds
 * which points of its plan are still needed (methods.md 12). A measurement of several units in one
 * chamber is needed as long as one of them needs it.
 */
public final class AdaptiveNight implements WhatNext {
  private static final String WHO = "adaptive stopping";

  private final Logbook logbook;
  private final List<Long> runs;
  private final Plan begun;
  private final Setting setting;
  private final NextStays next;

  /**
   * The setting of the measurement.
   *
   * @param datasheet the datasheet of the units
   * @param bench the bench
   */
  public record Setting(Datasheet datasheet, BenchFile bench) {
    private BenchSpeeds speeds() {
      return BenchSpeedsFromFile.of(bench);
    }
  }

  private AdaptiveNight(
      Logbook logbook, List<Long> runs, Plan begun, Setting setting, StoppingRule rule) {
    this.logbook = logbook;
    this.runs = List.copyOf(runs);
    this.begun = begun;
    this.setting = setting;
    this.next = new NextStays(rule, setting.datasheet(), setting.speeds());
  }

  /**
   * Creates the revision of the plan of a run.
   *
   * @param logbook the logbook of the run
   * @param runs the runs of its units in the logbook
   * @param begun the plan of its sequence
   * @param setting datasheet and bench
   * @param facts the facts of the run, which contain the U at which its limits are decided
   * @return the revision; without such facts the plan stays as it is
   */
  public static WhatNext of(
      Logbook logbook, List<Long> runs, Plan begun, Setting setting, RunFacts facts) {
    StoppingRule rule = new StoppingRule(facts.decidesAtU());
    return rule.mostU().isEmpty()
        ? WhatNext.AS_PLANNED
        : new AdaptiveNight(logbook, runs, begun, setting, rule);
  }

  @Override
  public Answer before(Ahead ahead) {
    try {
      return ReadingBeside.of(logbook, book -> answer(book, ahead));
    } catch (NotAnalysableException nothingYet) {
      return Answer.NOTHING;
    } catch (MillraceException e) {
      return new Answer(List.of(), Optional.empty(), Optional.ofNullable(e.getMessage()));
    }
  }

  private Answer answer(Logbook book, Ahead ahead) {
    List<List<LimitForecast>> units = new ArrayList<>();
    for (long run : runs) {
      units.add(LimitForecast.of(Assessor.assess(book.reader(run)).results(), setting.bench()));
    }
    List<PlanChange> changes = book.reader(ahead.run()).planChanges();
    return new Answer(
        next.after(standing(ahead, changes), units).stream().map(AdaptiveNight::draft).toList(),
        Optional.of(next.inWords(units)),
        Optional.empty());
  }

  private RunStanding standing(Ahead ahead, List<PlanChange> changes) {
    Set<String> toGo = ahead.toGo().stream().map(PlannedPoint::key).collect(Collectors.toSet());
    return new RunStanding(
        ChangedPlan.of(begun, changes).plan(),
        toGo,
        TimeSpanSeconds.seconds(ahead.elapsed()),
        boundS(changes));
  }

  /** The time of the sequence with the additions of people, s. */
  private double boundS(List<PlanChange> changes) {
    List<PlanChange> added =
        changes.stream().filter(c -> c.kind() == PlanChange.Kind.ADD_TEMPERATURE).toList();
    Plan planned = ChangedPlan.of(begun, added).plan();
    return TimeSpanSeconds.seconds(
        Schedule.of(planned, setting.datasheet(), setting.speeds()).total());
  }

  private static PlanChange.Draft draft(PlanRevision revision) {
    PlanChange.Kind kind =
        switch (revision.kind()) {
          case LEAVE_OUT -> PlanChange.Kind.LEAVE_OUT;
          case REPEAT -> PlanChange.Kind.REPEAT;
        };
    return new PlanChange.Draft(kind, revision.words(), revision.keys(), revision.reason(), WHO);
  }
}
