// SPDX-License-Identifier: Apache-2.0
package millrace.run.control;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import millrace.logbook.PlanChange;
import millrace.sequence.Plan.PlannedPoint;

/**
 * Looks at the plan of a run again between its stays at temperatures. Asked on a thread of its own,
 * so that interlocks are looked at meanwhile; the run waits for the answer. It takes its answer
 * from the logbook, which has all that was measured so far.
 */
public interface WhatNext {
  /** The plan stays as it is. */
  WhatNext AS_PLANNED = ahead -> Answer.NOTHING;

  /**
   * What the run has before it.
   *
   * @param run its local number
   * @param toGo the points that are still to be taken, in their order; not empty
   * @param elapsed elapsed time of the run
   */
  record Ahead(long run, List<PlannedPoint> toGo, Duration elapsed) {
    /** Copies the list. */
    public Ahead {
      toGo = List.copyOf(toGo);
    }
  }

  /**
   * What is changed of the plan.
   *
   * @param changes of points that are still to be taken; empty to go on as planned
   * @param note what the plan is still needed for, for the logbook; empty if nothing is to be said
   * @param trouble why the plan could not be looked at, for the logbook; empty if it could
   */
  record Answer(List<PlanChange.Draft> changes, Optional<String> note, Optional<String> trouble) {
    /** The plan stays. */
    public static final Answer NOTHING = new Answer(List.of(), Optional.empty(), Optional.empty());

    /** Copies the list. */
    public Answer {
      changes = List.copyOf(changes);
    }
  }

  /**
   * What is changed of the plan before the next stay.
   *
   * @param ahead what the run has before it
   * @return what is changed; the run goes on in any case
   */
  Answer before(Ahead ahead);
}
