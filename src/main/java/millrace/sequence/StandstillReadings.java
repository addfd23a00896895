// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.Arrays;
import java.util.function.IntToDoubleFunction;

/**
 * How many readings it takes on average until they stand still: until two in a row agree within a
 * band, and the last step was none or went the other way than the one before. The readings are
 * normally distributed and independent. Stateless.
 */
final class StandstillReadings {
  private static final int CELLS = 161;
  private static final double REACH = 5;
  private static final double STEP = 2 * REACH / (CELLS - 1);
  private static final int MOST = 400;
  private static final double REST = 1e-6;

  /** Expected where any step counts and no two readings disagree: 3 + 2(e - 5/2). */
  static final double OF_NOISE_ALONE = 2 * Math.E - 2;

  private StandstillReadings() {}

  /**
   * The expected number of readings, the last included: the sum over n of the probability that n
   * readings are not enough, carried from reading to reading on a grid of the last value, for
   * readings that last went up; those that went down are its mirror image.
   *
   * @param bandSigmas the band within which two readings agree, in standard deviations of a
   *     reading, above 0; infinite for any
   * @param noneSigmas the step that counts as none, in the same unit, 0 or more
   * @return 2 or more
   */
  static double expected(double bandSigmas, double noneSigmas) {
    double[] share = shares();
    double[] up = afterTwo(share, Math.min(bandSigmas, noneSigmas));
    double[] rising = rising(bandSigmas, noneSigmas);
    double[] falling = falling(bandSigmas, noneSigmas);
    double readings = 2;
    for (int n = 2; n < MOST; n++) {
      double open = 0;
      for (double u : up) {
        open += 2 * u;
      }
      readings += open;
      if (open < REST) {
        break;
      }
      up = next(up, share, rising, falling);
    }
    return readings;
  }

  /** The share of readings in each cell. */
  private static double[] shares() {
    double[] share = new double[CELLS];
    double sum = 0;
    for (int i = 0; i < CELLS; i++) {
      double x = i * STEP - REACH;
      share[i] = Math.exp(-x * x / 2);
      sum += share[i];
    }
    for (int i = 0; i < CELLS; i++) {
      share[i] /= sum;
    }
    return share;
  }

  /** One step has no step before it: only a step that counts as none ends. */
  private static double[] afterTwo(double[] share, double none) {
    double[] up = new double[CELLS];
    for (int from = 0; from < CELLS; from++) {
      for (int to = from; to < CELLS; to++) {
        up[to] += share[from] * share[to] * upward(to - from) * (1 - inside(to - from, none));
      }
    }
    return up;
  }

  /** The part of steps after a rise that rise too and leave the readings open, by step. */
  private static double[] rising(double band, double none) {
    return bySteps(c -> upward(c) * (1 - stands(c, band, none)));
  }

  /** The part that falls and leaves them open: within the band a turn is a standstill. */
  private static double[] falling(double band, double none) {
    return bySteps(c -> (1 - upward(c)) * (1 - stands(c, band, none)));
  }

  private static double stands(int cells, double band, double none) {
    return Math.max(inside(cells, none), 1 - upward(cells)) * inside(cells, band);
  }

  /** For steps from the last cell to the first, up to those from the first to the last. */
  private static double[] bySteps(IntToDoubleFunction part) {
    double[] all = new double[2 * CELLS - 1];
    Arrays.setAll(all, i -> part.applyAsDouble(i - (CELLS - 1)));
    return all;
  }

  private static double[] next(double[] up, double[] share, double[] rising, double[] falling) {
    double[] later = new double[CELLS];
    for (int from = 0; from < CELLS; from++) {
      for (int to = 0; to < CELLS; to++) {
        int step = to - from + CELLS - 1;
        double open = up[from] * share[to];
        later[to] += open * rising[step];
        later[CELLS - 1 - to] += open * falling[step];
      }
    }
    return later;
  }

  /** Of the steps within one cell one half goes up. */
  private static double upward(int cells) {
    return cells > 0 ? 1 : cells == 0 ? 0.5 : 0;
  }

  /** The part of the steps over so many cells that is no larger than a limit. */
  private static double inside(int cells, double limit) {
    return Math.max(0, Math.min(1, (limit - Math.abs(cells) * STEP) / STEP + 0.5));
  }
}
