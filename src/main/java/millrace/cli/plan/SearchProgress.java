// SPDX-License-Identifier: Apache-2.0
package millrace.cli.plan;

import java.time.Duration;
import millrace.planning.boards.TriedBoardTest;
import millrace.planning.night.TriedNight;
import millrace.quantity.NumberText;
import millrace.quantity.TimeSpanSeconds;
import millrace.terminal.Console;
import millrace.terminal.OverwrittenLine;
import millrace.terminal.Progress;
import millrace.time.SystemClock;

/** Shows the progress of a search, and ends it in time. Single-threaded. */
final class SearchProgress implements AutoCloseable {
  private static final Duration MOST = Duration.ofSeconds(150);

  private final Console console;
  private final OverwrittenLine line;
  private final SystemClock clock = new SystemClock();
  private final Duration from = clock.elapsed();
  private int count;

  SearchProgress(Console console) {
    this.console = console;
    this.line = new OverwrittenLine(console);
    if (console.interactive()) {
      line.show("computing one with the most of everything");
    } else {
      console.error("Searching, at most %s.".formatted(Progress.span(MOST)));
    }
  }

  private Duration gone() {
    return clock.elapsed().minus(from);
  }

  /** The spent share of the time that a search may take. */
  double timeSpent() {
    return (double) gone().toMillis() / MOST.toMillis();
  }

  /** Whether the search must end with its best result so far. */
  boolean timeUp() {
    return gone().compareTo(MOST) > 0;
  }

  /** A night was computed. */
  void computed(TriedNight night) {
    told(
        "night %s: %s, decides %s of %s"
            .formatted(
                ++count,
                Progress.span(TimeSpanSeconds.ofSeconds(night.hours() * 3600)),
                night.decided(),
                night.limits().size()));
  }

  /** A board test was computed. */
  void computed(TriedBoardTest test) {
    told(
        "board test %s: %s s on average"
            .formatted(++count, NumberText.significant(test.meanS(), 2)));
  }

  private void told(String what) {
    if (console.interactive()) {
      Duration left = MOST.minus(gone());
      line.show(
          "%s; at most %s left"
              .formatted(what, Progress.span(left.isNegative() ? Duration.ZERO : left)));
    }
  }

  @Override
  public void close() {
    line.close();
  }
}
