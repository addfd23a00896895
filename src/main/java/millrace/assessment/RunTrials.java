// SPDX-License-Identifier: Apache-2.0
package millrace.assessment;

import java.util.concurrent.atomic.AtomicInteger;
import millrace.time.Seeds;

/** The trials of one run: their seeds, and how far they are. */
final class RunTrials {
  private final Seeds seeds;
  private final TrialProgress progress;
  private final AtomicInteger now = new AtomicInteger();

  RunTrials(Seeds seeds, TrialProgress progress) {
    this.seeds = seeds;
    this.progress = progress;
  }

  Seeds seeds() {
    return seeds;
  }

  /** Trials of another kind of result begin: of the ranges, of the supply. */
  void begin() {
    now.set(0);
  }

  /** Trials were made; called by several threads. */
  void tried(int more) {
    progress.done(MonteCarloResultCheck.share(now.addAndGet(more)));
  }

  /** All trials are over. */
  void ended() {
    progress.done(1);
  }
}
