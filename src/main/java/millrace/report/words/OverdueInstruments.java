// SPDX-License-Identifier: Apache-2.0
package millrace.report.words;

import java.time.LocalDate;
import java.util.List;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;

/** Which instruments were past their calibration date when a run began. Stateless. */
public final class OverdueInstruments {
  private OverdueInstruments() {}

  /** Whether an instrument that was due on a day was overdue when the run began. */
  public static boolean late(RunReader run, LocalDate due) {
    RunStart start = run.summary().start();
    return !start.startedAt().atOffset(start.offset()).toLocalDate().isBefore(due);
  }

  /** One sentence for each instrument whose calibration was overdue. */
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
