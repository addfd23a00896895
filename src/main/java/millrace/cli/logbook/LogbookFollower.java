// SPDX-License-Identifier: Apache-2.0
package millrace.cli.logbook;

import java.nio.file.Path;
import java.time.Duration;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import millrace.fault.LogbookException;
import millrace.logbook.Logbook;
import millrace.logbook.RunSummary;
import millrace.logbook.SharedStore;
import millrace.logbook.StoreAddress;
import millrace.terminal.Console;
import millrace.time.TimeSource;

/**
 * Publishes runs of a logbook as they complete, until the process is ended. What waits is found by
 * comparing the logbook with the store each time, so nothing is forgotten while the server is away
 * and nothing has to be kept.
 */
final class LogbookFollower {
  private static final Duration PAUSE = Duration.ofSeconds(5);
  private static final Duration LONGEST = Duration.ofMinutes(5);

  private final Console console;
  private final Path logbook;
  private final StoreAddress to;
  private final TimeSource clock;

  /** The seals of what was sent, is there, or was refused. */
  private final Map<UUID, String> settled = new HashMap<>();

  private Duration wait = PAUSE;

  LogbookFollower(Console console, Path logbook, StoreAddress to, TimeSource clock) {
    this.console = console;
    this.logbook = logbook;
    this.to = to;
    this.clock = clock;
  }

  /** Never answers; the first look also finds what no waiting mends. */
  int follow() throws InterruptedException {
    Logbook.readOnly(logbook).close();
    console.error("Publishing each run of " + logbook + " that completes, until Ctrl-C.");
    while (true) {
      look();
      console.flush();
      clock.sleep(wait);
    }
  }

  /** The store is asked only where the logbook has something that was not sent yet. */
  private void look() {
    try (Logbook book = Logbook.readOnly(logbook)) {
      Map<UUID, String> sealed = SharedStore.sealed(book);
      sealed.entrySet().removeIf(each -> each.getValue().equals(settled.get(each.getKey())));
      if (!sealed.isEmpty() || wait.compareTo(PAUSE) > 0) {
        try (SharedStore store = SharedStore.at(to)) {
          List<RunSummary> pending = store.pending(book, sealed.keySet());
          answered();
          pending.forEach(run -> send(book, store, run));
          settled.putAll(sealed);
        }
      }
    } catch (LogbookException e) {
      away(e);
    }
  }

  private void answered() {
    if (wait.compareTo(PAUSE) > 0) {
      console.error("The store answers again.");
    }
    wait = PAUSE;
  }

  private void away(LogbookException e) {
    if (!SharedStore.passes(e)) {
      throw e;
    }
    if (wait.equals(PAUSE)) {
      console.error(e.getMessage());
      console.error("Waiting for it; runs are kept in the logbook meanwhile.");
    }
    Duration twice = wait.multipliedBy(2);
    wait = twice.compareTo(LONGEST) < 0 ? twice : LONGEST;
  }

  /** A run that the store refuses is told of once, and again when something was added to it. */
  private void send(Logbook book, SharedStore store, RunSummary run) {
    try {
      new PublishedRuns(console, book, store).sendOne(run);
    } catch (LogbookException e) {
      if (!SharedStore.refusesOne(e)) {
        throw e;
      }
      console.error(e.getMessage());
    }
  }
}
