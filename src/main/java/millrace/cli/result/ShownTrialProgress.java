// SPDX-License-Identifier: Apache-2.0
package millrace.cli.result;

import java.time.Duration;
import millrace.assessment.TrialProgress;
import millrace.terminal.Console;
import millrace.terminal.Progress;
import millrace.time.SystemClock;

/** Shows how far trials are and how long they will take. Thread-safe. */
final class ShownTrialProgress implements TrialProgress, AutoCloseable {
  /** Without a terminal one line at each of so many per cent. */
  private static final int PLAIN_STEP = 20;

  private final Console console;
  private final SystemClock clock = new SystemClock();
  private final Duration from = clock.elapsed();
  private int shown = -1;
  private int wide;

  ShownTrialProgress(Console console) {
    this.console = console;
  }

  @Override
  public synchronized void done(double share) {
    int percent = (int) (100 * share);
    int step = console.interactive() ? 1 : PLAIN_STEP;
    boolean told = shown >= 0 && percent / step <= shown / step;
    if (told || percent >= 100) {
      return;
    }
    shown = percent;
    String text = "Monte Carlo trials: %s %%%s".formatted(percent, left(share));
    if (console.interactive()) {
      overwrite(text);
    } else {
      console.error(text);
    }
  }

  /** The first per cent tells too little of how long the rest will take. */
  private String left(double share) {
    if (share < 0.02) {
      return "";
    }
    double gone = clock.elapsed().minus(from).toMillis();
    long seconds = Math.round(gone * (1 - share) / share / 1000);
    return ", about %s left".formatted(Progress.span(Duration.ofSeconds(Math.max(1, seconds))));
  }

  private void overwrite(String text) {
    int room = Math.max(1, console.terminal().columns() - 1);
    String line = text.length() > room ? text.substring(0, room) : text;
    console.err().print("\r" + line + " ".repeat(Math.max(0, wide - line.length())));
    console.err().flush();
    wide = line.length();
  }

  @Override
  public synchronized void close() {
    if (wide > 0) {
      console.err().print("\r" + " ".repeat(wide) + "\r");
      console.err().flush();
      wide = 0;
    }
  }
}
