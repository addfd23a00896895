// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.util.concurrent.atomic.AtomicInteger;
import millrace.time.Seeds;

/** The trials of one run: their seeds, and how far they are. */
final class RunTrials {
  private final Seeds seeds;
  private final TrialProgress progress;
  private final AtomicInteger now = new AtomicInteger();
  private int kinds = 1;
  private int ended;

  RunTrials(Seeds seeds, TrialProgress progress) {
    this.seeds = seeds;
    this.progress = progress;
  }

  Seeds seeds() {
    return seeds;
  }

  /** So many kinds of results will be tried: of ranges, of pairs of them, of the unit. */
  void expect(int count) {
    kinds = Math.max(1, count);
  }

  /** Trials were made; called by several threads. */
  void tried(int more) {
    double share = Math.min(1, (double) now.addAndGet(more) / MonteCarloResultCheck.LEAST);
    progress.done(Math.min(1, (ended + share) / kinds));
  }

  /** The trials of one kind are over, or there are none of it. */
  void ended() {
    ended++;
    now.set(0);
    progress.done(Math.min(1, (double) ended / kinds));
  }
}
