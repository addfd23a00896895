// SPDX-License-Identifier: Apache-2.0
package millrace.cli.plan;

import java.time.Duration;
import millrace.planning.night.TriedNight;
import millrace.quantity.TimeSpanSeconds;
import millrace.terminal.Console;
import millrace.terminal.Progress;
import millrace.time.SystemClock;

/** Shows how far a search for a night is, and ends it in good time. Single-threaded. */
final class SearchProgress implements AutoCloseable {
  private static final Duration MOST = Duration.ofSeconds(150);

  private final Console console;
  private final SystemClock clock = new SystemClock();
  private final Duration from = clock.elapsed();
  private int nights;
  private int wide;

  SearchProgress(Console console) {
    this.console = console;
    if (console.interactive()) {
      overwrite("computing a night with the most of everything");
    } else {
      console.error("Searching, at most %s.".formatted(Progress.span(MOST)));
    }
  }

  private Duration gone() {
    return clock.elapsed().minus(from);
  }

  /** Whether the search has to end with the best that it has. */
  boolean timeUp() {
    return gone().compareTo(MOST) > 0;
  }

  /** A night was computed. */
  void computed(TriedNight night) {
    nights++;
    if (console.interactive()) {
      Duration left = MOST.minus(gone());
      overwrite(
          "night %s: %s, decides %s of %s; at most %s left"
              .formatted(
                  nights,
                  Progress.span(TimeSpanSeconds.ofSeconds(night.hours() * 3600)),
                  night.decided(),
                  night.limits().size(),
                  Progress.span(left.isNegative() ? Duration.ZERO : left)));
    }
  }

  private void overwrite(String text) {
    int room = Math.max(1, console.terminal().columns() - 1);
    String shown = text.length() > room ? text.substring(0, room) : text;
    console.err().print("\r" + shown + " ".repeat(Math.max(0, wide - shown.length())));
    console.err().flush();
    wide = shown.length();
  }

  @Override
  public void close() {
    if (wide > 0) {
      console.err().print("\r" + " ".repeat(wide) + "\r");
      console.err().flush();
    }
  }
}
