// SPDX-License-Identifier: Apache-2.0
package millrace.run.journal;

import java.util.List;
import millrace.bench.Bench;
import millrace.datasheet.Datasheet;
import millrace.run.control.OperatorPrompt;
import millrace.run.control.RunObserver;
import millrace.run.control.StopRequest;
import millrace.run.control.WhatNext;
import millrace.time.TimeSource;

/**
 * Everything that a run needs.
 *
 * @param plan what is done, with what was changed of it before
 * @param datasheet what the unit promises
 * @param bench the open bench
 * @param writers the runs in the logbook, begun or resumed
 * @param time the clock
 * @param stop through which others may end the run
 * @param operator who answers questions
 * @param observers who hears of it
 * @param next looks at the plan again between stays
 * @param before what the logbook holds of this run already
 */
public record RunContext(
    ChangedPlan plan,
    Datasheet datasheet,
    Bench bench,
    NightRunWriters writers,
    TimeSource time,
    StopRequest stop,
    OperatorPrompt operator,
    List<RunObserver> observers,
    WhatNext next,
    ResumeState before) {

  /** Copies the list. */
  public RunContext {
    observers = List.copyOf(observers);
  }
}
