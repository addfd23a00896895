// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.logbook.RunState;
import millrace.logbook.RunSummary;
import millrace.run.watchdog.Watchdog;

/** Describes the end of a run whose process died. Stateless. */
public final class CrashedRunEnding {
  private static final DateTimeFormatter TIME = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);

  private CrashedRunEnding() {}

  /**
   * The time of the end, and whether the bench is safe.
   *
   * @param book its logbook
   * @param summary the run
   * @param reader reads the same run
   * @return the description; empty for a run that goes on or ended normally
   */
  public static Optional<String> of(Logbook book, RunSummary summary, RunReader reader) {
    if (summary.state() != RunState.UNFINISHED || book.isBeingWritten(summary.id())) {
      return Optional.empty();
    }
    List<Incident> incidents = reader.incidents();
    Optional<Incident> last =
        incidents.stream().filter(i -> i.kind() != IncidentKind.NOTE).reduce((a, b) -> b);
    return last.filter(i -> i.text().startsWith(Watchdog.DIED))
        .map(CrashedRunEnding::byWatchdog)
        .or(() -> Optional.of(unseen(summary, last)));
  }

  private static String byWatchdog(Incident incident) {
    String what = incident.text().substring(Watchdog.DIED.length());
    String died = "died at " + at(incident.at());
    return what.startsWith(Watchdog.MADE_SAFE)
        ? died + ", made safe by the watchdog"
        : died + "; " + what;
  }

  /** If the machine stops, the watchdog stops too. */
  private static String unseen(RunSummary summary, Optional<Incident> last) {
    boolean own = summary.start().simulation().filter(RunStart.Simulation::virtualTime).isPresent();
    String died = last.map(i -> "died after " + at(i.at())).orElse("died");
    return own
        ? died + ", and its simulated bench with it"
        : died
            + "; NOBODY HAS CONFIRMED THAT THE BENCH IS SAFE. Look at it, and say 'millrace safe"
            + " --bench FILE'";
  }

  private static String at(Instant when) {
    return TIME.format(when.atZone(ZoneId.systemDefault()));
  }
}
