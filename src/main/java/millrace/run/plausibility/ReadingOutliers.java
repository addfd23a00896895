// SPDX-License-Identifier: Apache-2.0
package millrace.run.plausibility;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import millrace.analysis.reduction.SampleMedian;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;

/**
 * Finds readings that deviate from the others of their point by more than six standard deviations.
 * The standard deviation is pooled over the points read in the same way; until enough have been
 * read, only a reading far beyond the point's own median deviation is found. If a point has too few
 * readings to show which one is wrong, more are taken first. Single-threaded.
 */
final class ReadingOutliers {
  private static final double SIGMAS = 6;

  /** Factor on the scatter of the point's inner readings, before the pooled one is known. */
  private static final double OWN = 30;

  /** Among fewer readings than these, three may be close together by chance. */
  private static final int ENOUGH = 8;

  /** The same once the pooled scatter is known. */
  private static final int ENOUGH_WITH_POOL = 5;

  /** Scatter relative to the median, where readings are too equal or too few to estimate it. */
  private static final double GROSS = 3e-4;

  private static final int LEAST_POOL = 20;

  /**
   * If more than one in so many deviates, the point is unsteady and no single reading counts as an
   * outlier.
   */
  private static final int FEW = 4;

  private final Map<Way, Pool> pools = new HashMap<>();

  /**
   * What readings have in common whose scatter is pooled.
   *
   * @param signal which of the readings of a point
   * @param settings how they were read
   * @param resolution the least step of a reading, in its unit; 0 if not known
   */
  record Way(MeasuredSignal signal, String settings, double resolution) {}

  /** Sum of squares and degrees of freedom of steady readings. */
  private static final class Pool {
    private double squares;
    private int freedom;

    boolean known() {
      return freedom >= LEAST_POOL;
    }

    /** Not below what rounding alone makes: d^2/12 (methods.md 2.1). */
    double deviation(double resolution) {
      return Math.sqrt(Math.max(squares / freedom, resolution * resolution / 12));
    }
  }

  /** The readings of one signal and where they lie. */
  private static final class Values {
    private final List<Integer> places = new ArrayList<>();
    private final double[] all;
    private final double middle;

    Values(List<Reading> readings, Way way) {
      for (int i = 0; i < readings.size(); i++) {
        Reading r = readings.get(i);
        if (r.signal() == way.signal() && r.state() == ReadingState.NUMBER) {
          places.add(i);
        }
      }
      all = places.stream().mapToDouble(i -> readings.get(i).value().orElseThrow()).toArray();
      middle = all.length == 0 ? 0 : SampleMedian.of(all);
    }

    int n() {
      return all.length;
    }

    double away(int k) {
      return Math.abs(all[k] - middle);
    }

    double medianAway() {
      return SampleMedian.of(aways());
    }

    private double[] aways() {
      return Arrays.stream(all).map(v -> Math.abs(v - middle)).sorted().toArray();
    }

    /** The root mean square of how far the nearer three quarters lie from the middle. */
    double near() {
      return Math.sqrt(
          Arrays.stream(aways(), 0, n() - n() / FEW).map(a -> a * a).average().orElse(0));
    }

    double range() {
      return Arrays.stream(all).max().orElse(0) - Arrays.stream(all).min().orElse(0);
    }
  }

  /**
   * How many more readings it takes to tell whether those of a point agree.
   *
   * @param readings of one point
   * @param way which of them
   * @return 0 if they agree, if there are enough, or if a single one has no neighbour
   */
  int wanting(List<Reading> readings, Way way) {
    Values values = new Values(readings, way);
    Pool pool = pool(way);
    int enough = pool.known() ? ENOUGH_WITH_POOL : ENOUGH;
    boolean few = values.n() > 1 && values.n() < enough;
    return few && doubtful(values, pool, way) ? ENOUGH - values.n() : 0;
  }

  private static boolean doubtful(Values values, Pool pool, Way way) {
    double gross = GROSS * Math.abs(values.middle);
    if (pool.known()) {
      double bound = pool.squares > 0 ? SIGMAS * pool.deviation(way.resolution()) : gross;
      return values.range() > bound;
    }
    double own = OWN * Math.max(values.medianAway(), way.resolution());
    return (values.n() > 2 && values.medianAway() > 0)
        ? values.range() > own
        : values.range() > Math.max(OWN * way.resolution(), gross);
  }

  /**
   * The places of the readings of a signal that lie off the others.
   *
   * @param readings of one point
   * @param way which of them
   * @return indices into the list; empty if all agree or too few are there to tell
   */
  List<Integer> off(List<Reading> readings, Way way) {
    Values values = new Values(readings, way);
    Pool pool = pool(way);
    if (values.n() < (pool.known() ? ENOUGH_WITH_POOL : ENOUGH)) {
      return List.of();
    }
    double bound = bound(values, pool, way);
    List<Integer> off = new ArrayList<>();
    for (int k = 0; k < values.n(); k++) {
      if (values.away(k) > bound) {
        off.add(values.places.get(k));
      }
    }
    return off.size() * FEW > values.n() ? List.of() : off;
  }

  /** Takes the readings of a point into what is known of their scatter. */
  void learn(List<Reading> readings, Way way) {
    double[] values = new Values(readings, way).all;
    double mean = Arrays.stream(values).average().orElse(0);
    Pool pool = pool(way);
    for (double v : values) {
      pool.squares += (v - mean) * (v - mean);
    }
    pool.freedom += Math.max(0, values.length - 1);
  }

  private Pool pool(Way way) {
    return pools.computeIfAbsent(way, k -> new Pool());
  }

  private static double bound(Values values, Pool pool, Way way) {
    double step = way.resolution() > 0 ? way.resolution() : step(values.all);
    double bound =
        pool.known() && pool.squares > 0
            ? SIGMAS * pool.deviation(way.resolution())
            : OWN * Math.max(values.near(), step);
    return bound > 0 ? bound : Double.POSITIVE_INFINITY;
  }

  /**
   * The smallest difference of two unequal values. Near 0 V only the last digit of a meter changes
   * and most readings are equal, so that their median deviation is 0.
   */
  private static double step(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    double least = Double.POSITIVE_INFINITY;
    for (int i = 1; i < sorted.length; i++) {
      double apart = sorted[i] - sorted[i - 1];
      least = apart > 0 ? Math.min(least, apart) : least;
    }
    return Double.isInfinite(least) ? 0 : least;
  }
}
