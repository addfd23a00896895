// SPDX-License-Identifier: Apache-2.0
package millrace.cli.result;

import java.time.Duration;
import millrace.assessment.TrialProgress;
import millrace.terminal.Console;
import millrace.terminal.OverwrittenLine;
import millrace.terminal.Progress;
import millrace.time.SystemClock;

/** Shows how far trials are and how long they will take. Thread-safe. */
final class ShownTrialProgress implements TrialProgress, AutoCloseable {
  /** Without a terminal one line at each of so many per cent. */
  private static final int PLAIN_STEP = 20;

  private final Console console;
  private final OverwrittenLine line;
  private final SystemClock clock = new SystemClock();
  private final Duration from = clock.elapsed();
  private int shown = -1;

  ShownTrialProgress(Console console) {
    this.console = console;
    this.line = new OverwrittenLine(console);
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
      line.show(text);
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

  @Override
  public synchronized void close() {
    line.close();
  }
}
