// SPDX-License-Identifier: Apache-2.0
package millrace.cli.logbook;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import millrace.cli.exit.ExitCode;
import millrace.fault.LogbookException;
import millrace.logbook.Logbook;
import millrace.logbook.RunSummary;
import millrace.logbook.SharedStore;
import millrace.terminal.Console;

/** Runs that are sent to a store one by one, with what became of each. */
final class PublishedRuns {
  private final Console console;
  private final Logbook book;
  private final SharedStore store;
  private final Map<SharedStore.Outcome, Integer> counts = new EnumMap<>(SharedStore.Outcome.class);
  private int refused;

  PublishedRuns(Console console, Logbook book, SharedStore store) {
    this.console = console;
    this.book = book;
    this.store = store;
  }

  /**
   * Sends runs. One that the store refuses does not keep the others back.
   *
   * @throws LogbookException if no other would be taken either; what was sent until then stays
   *     there
   */
  void send(List<RunSummary> runs) {
    for (RunSummary run : runs) {
      try {
        sendOne(run);
      } catch (LogbookException e) {
        if (!SharedStore.refusesOne(e)) {
          throw e;
        }
        refused++;
        console.error(e.getMessage());
      }
    }
  }

  /** Sends a run, and says what became of it. */
  void sendOne(RunSummary run) {
    said(run, store.publish(book, run));
  }

  private void said(RunSummary run, SharedStore.Outcome outcome) {
    counts.merge(outcome, 1, Integer::sum);
    console.print(
        "run %s (unit %s): %s"
            .formatted(
                run.id(),
                run.start().unit(),
                switch (outcome) {
                  case SENT -> "published";
                  case ADDED -> "was there; what came since was added";
                  case THERE -> "was there already, with all that is known of it";
                }));
  }

  /** Says what came of all; the exit code. */
  ExitCode conclude() {
    console.print(
        "%s published, %s added to, %s there already%s"
            .formatted(
                count(SharedStore.Outcome.SENT),
                count(SharedStore.Outcome.ADDED),
                count(SharedStore.Outcome.THERE),
                refused == 0 ? "" : ", " + refused + " REFUSED"));
    return refused == 0 ? ExitCode.DONE : ExitCode.LOGBOOK;
  }

  private int count(SharedStore.Outcome outcome) {
    return counts.getOrDefault(outcome, 0);
  }
}
