// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import millrace.time.Seeds;
import millrace.time.TimeSource;
import millrace.time.VirtualClock;

/**
 * The clock of a night on which something happens to the run itself: it strikes when the run, in
 * its own thread, looks at the clock or waits, a random number of such looks after its time, so
 * that it falls between any two things that a run does.
 */
final class NightBlows implements TimeSource {
  private static final int MOST_LOOKS = 300;

  private final VirtualClock clock;
  private final List<Blow> ahead = new ArrayList<>();
  private final Thread runner = Thread.currentThread();
  private Act act = blow -> {};

  /** What can happen to a run. */
  enum Kind {
    /** Everything is without power at once. */
    POWER_CUT,
    /** The operator presses Ctrl-C. */
    CTRL_C,
    /** No byte more fits on the disk. */
    DISK_FULL
  }

  /** What strikes, and when. */
  private static final class Blow {
    private final Kind kind;
    private final Duration from;
    private int looks;

    Blow(Kind kind, Duration from, int looks) {
      this.kind = kind;
      this.from = from;
      this.looks = looks;
    }
  }

  /** What is done when a blow strikes. */
  interface Act {
    void strike(Kind kind);
  }

  /** The run is without power: nothing catches this but the night. */
  static final class PowerCut extends Error {
    private static final long serialVersionUID = 1;

    PowerCut() {
      super("the power is cut");
    }
  }

  /** Blows of these kinds, each drawn or not. */
  NightBlows(VirtualClock clock, List<Kind> kinds, Duration within, Seeds seeds) {
    this.clock = clock;
    SplittableRandom random = seeds.stream("blows");
    for (Kind kind : kinds) {
      Duration from = Duration.ofMillis((long) (random.nextDouble() * within.toMillis()));
      int looks = random.nextInt(MOST_LOOKS);
      if (random.nextInt(3) == 0) {
        ahead.add(new Blow(kind, from, looks));
      }
    }
  }

  /** From here on blows strike. */
  void armed(Act act) {
    this.act = act;
  }

  /** Nothing strikes any more until it is armed again. */
  void disarmed() {
    this.act = blow -> {};
  }

  private void look() {
    if (Thread.currentThread() != runner) {
      return;
    }
    for (Blow blow : List.copyOf(ahead)) {
      if (clock.elapsed().compareTo(blow.from) >= 0 && blow.looks-- <= 0) {
        ahead.remove(blow);
        act.strike(blow.kind);
      }
    }
  }

  @Override
  public Instant now() {
    look();
    return clock.now();
  }

  @Override
  public Duration elapsed() {
    look();
    return clock.elapsed();
  }

  @Override
  public void sleep(Duration span) throws InterruptedException {
    look();
    clock.sleep(span);
  }
}
