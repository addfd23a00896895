// SPDX-License-Identifier: Apache-2.0
package millrace.report.words;

import java.time.LocalDate;
import java.util.List;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;

/** Instruments past their calibration date at the start of a run. Stateless. */
public final class OverdueInstruments {
  private OverdueInstruments() {}

  /** Whether an instrument with a given due date was overdue at the start of the run. */
  public static boolean late(RunReader run, LocalDate due) {
    RunStart start = run.summary().start();
    return !start.startedAt().atOffset(start.offset()).toLocalDate().isBefore(due);
  }

  /** One sentence for each overdue instrument. */
  public static List<String> of(RunReader run) {
    return run.instruments().stream()
        .filter(i -> i.certificate().flatMap(c -> c.dueOn()).filter(d -> late(run, d)).isPresent())
        .map(
            i ->
                "The calibration of instrument "
                    + i.name()
                    + " was overdue at the time of the run.")
        .toList();
  }
}
