// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import java.util.ArrayList;
import java.util.List;

/**
 * The laws that noise may follow: white, first-order autoregression, flicker, random walk, white +
 * flicker, white + random walk; six families of equal weight, each shared equally by its members
 * (methods.md 6.3c). How many members there are depends on how long the longest record is that
 * tells them. Immutable and thread-safe.
 */
final class NoiseLaws {
  /** Least number of correlation times in a record for an autoregression to be identified. */
  private static final double LEAST_TIMES = 8;

  private static final double WEAK = 0.15;
  private static final double MOST_FLICKER = 50;
  private static final double MOST_WALK = 300;

  private final List<NoiseCovarianceKernel> kernels = new ArrayList<>();
  private final List<Law> laws = new ArrayList<>();
  private final int flicker;

  /** A law: an amount of white noise and an amount of a kernel. */
  private record Law(double white, int kernel, double amount, double share) {}

  private NoiseLaws(int n, boolean walking, NoiseCovarianceKernel walk) {
    int families = walking ? 6 : 4;
    kernels.add(NoiseCovarianceKernel.WHITE);
    laws.add(new Law(1, 0, 0, 1.0 / families));
    autoregressions(n, families);
    flicker = kernels.size();
    kernels.add(NoiseCovarianceKernel.FLICKER);
    laws.add(new Law(0, flicker, 1, 1.0 / families));
    members(flicker, 1 / (2.0 * n), MOST_FLICKER, families);
    if (walking) {
      kernels.add(walk);
      laws.add(new Law(0, flicker + 1, 1, 1.0 / families));
      members(flicker + 1, 5 / ((double) n * n), MOST_WALK, families);
    }
  }

  /**
   * All laws.
   *
   * @param n readings of the longest record, 2 or more
   * @param means whether they are means of successive readings
   */
  static NoiseLaws of(int n, boolean means) {
    return new NoiseLaws(
        n, true, means ? NoiseCovarianceKernel.WALK_OF_MEANS : NoiseCovarianceKernel.WALK);
  }

  /** The laws that readings within points can tell: no random walk (methods.md 2.1). */
  static NoiseLaws withoutWalk(int n) {
    return new NoiseLaws(n, false, NoiseCovarianceKernel.WALK);
  }

  private void autoregressions(int n, int families) {
    List<Double> each = new ArrayList<>();
    each.add(WEAK);
    for (int j = 1; n * Math.pow(2, -j / 2.0) >= LEAST_TIMES; j++) {
      each.add(1 - Math.pow(2, -j / 2.0));
    }
    for (double r1 : each) {
      laws.add(new Law(0, kernels.size(), 1, 1.0 / families / each.size()));
      kernels.add(NoiseCovarianceKernel.autoregression(r1));
    }
  }

  private void members(int kernel, double first, double most, int families) {
    List<Double> amounts = new ArrayList<>();
    for (double q = first; q < most; q *= 2) {
      amounts.add(q);
    }
    amounts.forEach(q -> laws.add(new Law(1, kernel, q, 1.0 / families / amounts.size())));
  }

  List<NoiseCovarianceKernel> kernels() {
    return List.copyOf(kernels);
  }

  int size() {
    return laws.size();
  }

  /** The prior probability of a law. */
  double share(int law) {
    return laws.get(law).share();
  }

  /** What is linear in the covariance, of a law, from the same of each kernel. */
  double of(int law, double[] byKernel) {
    Law l = laws.get(law);
    return l.white() * byKernel[0] + l.amount() * byKernel[l.kernel()];
  }

  /** Variances of coefficients under a law, from those under each kernel. */
  double[] spectrum(int law, double[][] byKernel) {
    Law l = laws.get(law);
    double[] v = new double[byKernel[0].length];
    for (int k = 0; k < v.length; k++) {
      v[k] = l.white() * byKernel[0][k] + l.amount() * byKernel[l.kernel()][k];
    }
    return v;
  }

  /** The kernel that a law has besides white noise. */
  int kernel(int law) {
    return laws.get(law).kernel();
  }

  /** How much white noise a law has: 1, or 0 where the kernel stands alone. */
  double white(int law) {
    return laws.get(law).white();
  }

  /** How much of its kernel a law has. */
  double amount(int law) {
    return laws.get(law).amount();
  }
}
