// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.regression;

import java.util.Arrays;
import java.util.Comparator;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;

/**
 * A continuous line of two straight segments, y = a + b x + c max(0, x - p), by weighted least
 * squares. For every gap between neighbouring x the best break is where the two separate lines
 * cross, if they cross inside the gap, else one of its ends, so the minimum over all gaps is exact
 * and no start value is needed (Hudson, J. Am. Stat. Assoc. 61 (1966) 1097, from memory; methods.md
 * 3.4). The interval of the break is that of the profile: all p whose weighted sum of squares is
 * within a stated distance of the least (Seber and Wild, Nonlinear Regression, Wiley 1989, 9.3,
 * from memory).
 *
 * <p>Immutable and thread-safe.
 */
public final class TwoSegmentFit {
  /** Least number of observations: four parameters and one degree of freedom. */
  public static final int LEAST = 5;

  private static final int HALVINGS = 60;
  private static final int MOST_FOR_FITS = 500;
  private static final double NEAR_THE_END = 1e-9;

  private final double[] x;
  private final double[] y;
  private final double[] u;
  private final HingeSums sums;
  private final double breakX;
  private final double[] coefficients;
  private final double chiSquared;

  private TwoSegmentFit(double[] x, double[] y, double[] u, HingeSums sums, double breakX) {
    this.x = x;
    this.y = y;
    this.u = u;
    this.sums = sums;
    this.breakX = breakX;
    LinearFit fit = LinearFit.of(hinge(x, breakX), y, u);
    this.coefficients = new double[] {fit.coefficient(0), fit.coefficient(1), fit.coefficient(2)};
    this.chiSquared = fit.chiSquared();
  }

  /**
   * Fits (methods.md 3.4).
   *
   * @param x any order
   * @param y the observations, as many
   * @param u standard uncertainty of each, above 0, as many; only ratios matter for the values
   * @return the fit; empty where fewer than {@link #LEAST} observations or fewer than four
   *     different x are given
   */
  public static Optional<TwoSegmentFit> of(double[] x, double[] y, double[] u) {
    return Sorted.of(x, y, u).map(s -> new TwoSegmentFit(s.x, s.y, s.u, s.sums, s.best()));
  }

  /**
   * Where the segments of {@link #of} meet, where nothing else is asked (methods.md 3.4).
   *
   * @param x any order
   * @param y the observations, as many
   * @param u standard uncertainty of each, above 0, as many; only ratios matter
   * @return p, in the unit of x; empty where {@link #of} is
   */
  public static OptionalDouble breakOf(double[] x, double[] y, double[] u) {
    Optional<Sorted> sorted = Sorted.of(x, y, u);
    return sorted.isPresent() ? OptionalDouble.of(sorted.get().best()) : OptionalDouble.empty();
  }

  /** Observations in rising x. */
  private static final class Sorted {
    private final double[] x;
    private final double[] y;
    private final double[] u;
    private final double[] knots;
    private final HingeSums sums;

    private Sorted(double[] x, double[] y, double[] u, double... knots) {
      this.x = x;
      this.y = y;
      this.u = u;
      this.knots = knots;
      this.sums = new HingeSums(x, y, u);
    }

    static Optional<Sorted> of(double[] x, double[] y, double[] u) {
      int[] order = order(x);
      double[] sorted = picked(x, order);
      double[] knots = distinct(sorted);
      return x.length < LEAST || knots.length < LEAST - 1
          ? Optional.empty()
          : Optional.of(new Sorted(sorted, picked(y, order), picked(u, order), knots));
    }

    private static int[] order(double... x) {
      for (int i = 1; i < x.length; i++) {
        if (Double.compare(x[i - 1], x[i]) > 0) {
          return IntStream.range(0, x.length)
              .boxed()
              .sorted(Comparator.comparingDouble(k -> x[k]))
              .mapToInt(Integer::intValue)
              .toArray();
        }
      }
      return IntStream.range(0, x.length).toArray();
    }

    private static double[] picked(double[] of, int... order) {
      double[] picked = new double[order.length];
      for (int i = 0; i < order.length; i++) {
        picked[i] = of[order[i]];
      }
      return picked;
    }

    private double best() {
      double best = knots[1];
      double least = sums.chiSquared(best);
      for (int k = 1; k < knots.length - 1; k++) {
        double within = k + 2 < knots.length ? sums.crossing(knots[k], knots[k + 1]) : knots[k];
        for (double candidate : new double[] {knots[k], within}) {
          double chi = sums.chiSquared(candidate);
          if (chi < least) {
            least = chi;
            best = candidate;
          }
        }
      }
      return sharpened(x, y, u, best);
    }
  }

  private static double[] distinct(double... sorted) {
    double[] distinct = new double[sorted.length];
    int n = 0;
    for (double each : sorted) {
      if (n == 0 || Double.compare(distinct[n - 1], each) != 0) {
        distinct[n++] = each;
      }
    }
    return Arrays.copyOf(distinct, n);
  }

  /** The crossing again from separate fits, which lose fewer digits than sums do. */
  private static double sharpened(double[] x, double[] y, double[] u, double best) {
    int split = Arrays.binarySearch(x, best);
    int right = -split - 1;
    if (split >= 0 || right < 2 || x.length - right < 2 || !(x[x.length - 1] > x[right])) {
      return best;
    }
    double[] left = line(x, y, u, 0, right);
    double[] beyond = line(x, y, u, right, x.length);
    double crossing = (left[0] - beyond[0]) / (beyond[1] - left[1]) + x[right];
    return crossing >= x[right - 1] && crossing <= x[right] ? crossing : best;
  }

  /** Intercept at the first x of the right part, and slope. */
  private static double[] line(double[] x, double[] y, double[] u, int from, int to) {
    double origin = from == 0 ? x[to] : x[from];
    double[] ones = new double[to - from];
    Arrays.fill(ones, 1);
    double[] away = new double[to - from];
    Arrays.setAll(away, i -> x[from + i] - origin);
    LinearFit fit =
        LinearFit.of(
            new double[][] {ones, away},
            Arrays.copyOfRange(y, from, to),
            Arrays.copyOfRange(u, from, to));
    return new double[] {fit.coefficient(0), fit.coefficient(1)};
  }

  private static double[][] hinge(double[] x, double at) {
    double[] ones = new double[x.length];
    Arrays.fill(ones, 1);
    double[] beyond = new double[x.length];
    Arrays.setAll(beyond, i -> Math.max(0, x[i] - at));
    return new double[][] {ones, x.clone(), beyond};
  }

  /**
   * Where the segments meet.
   *
   * @return p, in the unit of x
   */
  public double breakX() {
    return breakX;
  }

  /**
   * Value of the first segment at x = 0.
   *
   * @return a, in the unit of y
   */
  public double intercept() {
    return coefficients[0];
  }

  /**
   * Slope before the break.
   *
   * @return b, in units of y over x
   */
  public double slope() {
    return coefficients[1];
  }

  /**
   * By how much the slope changes at the break.
   *
   * @return c, in units of y over x
   */
  public double slopeChange() {
    return coefficients[2];
  }

  /**
   * Weighted sum of squared residuals.
   *
   * @return chi squared
   */
  public double chiSquared() {
    return chiSquared;
  }

  /**
   * Weighted sum of squared residuals of one straight line through all.
   *
   * @return chi squared without a break
   */
  public double chiSquaredOfOneLine() {
    double[][] columns = {hinge(x, breakX)[0], x.clone()};
    return LinearFit.of(columns, y, u).chiSquared();
  }

  /**
   * Observations less the four parameters.
   *
   * @return 1 or more
   */
  public int degreesOfFreedom() {
    return x.length - 4;
  }

  /**
   * The design of the fit linearised at its minimum, for standard errors: derivatives by a, b, c
   * and p at each x.
   *
   * @param at the x, in any order
   * @return four columns
   */
  public double[][] linearised(double... at) {
    double[][] columns = Arrays.copyOf(hinge(at, breakX), 4);
    columns[3] = new double[at.length];
    for (int i = 0; i < at.length; i++) {
      columns[3][i] = at[i] > breakX ? -slopeChange() : 0;
    }
    return columns;
  }

  /**
   * The fitted value.
   *
   * @param at x
   * @return y
   */
  public double value(double at) {
    return intercept() + slope() * at + slopeChange() * Math.max(0, at - breakX);
  }

  /**
   * The interval of the break: outermost p whose profile lies within a distance of the least.
   *
   * @param allowance how much chi squared may exceed the least, 0 or more
   * @return lower and upper end; the first or last x where the profile does not close
   */
  public double[] profileInterval(double allowance) {
    return new double[] {end(allowance, -1), end(allowance, 1)};
  }

  /** By a fit of its own where that is affordable: sums lose digits where errors are very small. */
  private double profile(double at) {
    double span = x[x.length - 1] - x[0];
    if (x.length > MOST_FOR_FITS) {
      return sums.chiSquared(at);
    } else if (Math.min(at - x[0], x[x.length - 1] - at) < NEAR_THE_END * span) {
      return chiSquaredOfOneLine();
    }
    return LinearFit.of(hinge(x, at), y, u).chiSquared();
  }

  /**
   * From outside inwards: between two breaks that fit alike the profile may rise above the limit.
   */
  private double end(double allowance, int step) {
    double limit = Math.max(chiSquared, profile(breakX)) + allowance;
    double[] outwards = outwards(step);
    for (int i = outwards.length - 1; i >= 0; i--) {
      if (profile(outwards[i]) <= limit) {
        return i == outwards.length - 1
            ? outwards[i]
            : boundary(outwards[i], outwards[i + 1], limit);
      }
    }
    return outwards.length == 0 ? breakX : boundary(breakX, outwards[0], limit);
  }

  /** Each x on one side of the break, and the best break between two of them, nearest first. */
  private double[] outwards(int step) {
    double[] knots = distinct(x);
    return IntStream.range(0, knots.length)
        .mapToObj(
            k ->
                k >= 1 && k + 2 < knots.length
                    ? DoubleStream.of(knots[k], sums.crossing(knots[k], knots[k + 1]))
                    : DoubleStream.of(knots[k]))
        .flatMapToDouble(each -> each)
        .filter(at -> step * (at - breakX) > 0)
        .map(at -> step * at)
        .sorted()
        .map(at -> step * at)
        .toArray();
  }

  private double boundary(double in, double out, double limit) {
    double inside = in;
    double outside = out;
    for (int i = 0; i < HALVINGS; i++) {
      double middle = (inside + outside) / 2;
      if (profile(middle) <= limit) {
        inside = middle;
      } else {
        outside = middle;
      }
    }
    return (inside + outside) / 2;
  }
}
