// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.variance;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.function.ToDoubleFunction;
import java.util.function.UnaryOperator;
import org.apache.commons.math3.analysis.UnivariateFunction;
import org.apache.commons.math3.analysis.solvers.BrentSolver;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.apache.commons.math3.optim.InitialGuess;
import org.apache.commons.math3.optim.MaxEval;
import org.apache.commons.math3.optim.MaxIter;
import org.apache.commons.math3.optim.nonlinear.scalar.GoalType;
import org.apache.commons.math3.optim.nonlinear.scalar.ObjectiveFunction;
import org.apache.commons.math3.optim.nonlinear.scalar.noderiv.NelderMeadSimplex;
import org.apache.commons.math3.optim.nonlinear.scalar.noderiv.SimplexOptimizer;
import org.apache.commons.math3.optim.univariate.BrentOptimizer;
import org.apache.commons.math3.optim.univariate.SearchInterval;
import org.apache.commons.math3.optim.univariate.UnivariateObjectiveFunction;

/**
 * Components of variance of values that several factors act on, by restricted maximum likelihood,
 * with intervals by the profile of the likelihood: where the deviance exceeds its minimum by the
 * quantile of chi-square with one degree of freedom (methods.md 8.2). Factors may be nested,
 * crossed or neither; groups may be of different size.
 *
 * @param factors the component of each factor, in the order given
 * @param residual what no factor explains
 * @param mean of all values, weighted by the components
 * @param n number of values
 */
public record VarianceComponents(List<Component> factors, Component residual, double mean, int n) {
  /** Copies the list. */
  public VarianceComponents {
    factors = List.copyOf(factors);
  }

  /**
   * A component.
   *
   * @param sd its standard deviation, 0 or more, in the unit of the values
   * @param lower lower end of its interval, 0 or more
   * @param upper upper end; infinite where the data set none
   */
  public record Component(double sd, double lower, double upper) {}

  /** Levels of all factors together that are still computed in a few seconds. */
  public static final int MOST_LEVELS = 400;

  private static final double LARGEST = 1e3;
  private static final double SMALLEST_RESIDUAL = 1e-6;
  private static final int TRIES = 20_000;
  private static final double NO_WORSE = 1e-9;

  /** A simplex that has collapsed starts anew. */
  private static final int RESTARTS = 3;

  /**
   * Computes the components.
   *
   * @param values finite, not all equal; more values than levels of any factor
   * @param levels for each factor the level of each value, numbered from 0; two or more levels
   *     each, no more than {@link #MOST_LEVELS} in all
   * @param coverage of the intervals, above 0.5 and below 1
   * @return the components; empty if the factors leave nothing over from value to value
   */
  public static Optional<VarianceComponents> of(
      double[] values, List<int[]> levels, double coverage) {
    RestrictedLikelihood likelihood = new RestrictedLikelihood(values, levels);
    double[] searched =
        least(r -> likelihood.at(r).deviance(), filled(levels.size(), 0.5), 0, LARGEST);
    dropNothings(searched, likelihood);
    double[] ratios = StationaryRatios.near(likelihood, searched);
    RestrictedLikelihood.Fit fit = likelihood.at(ratios);
    double residual = Math.sqrt(fit.residualSquares() / likelihood.degreesOfFreedom());
    if (Arrays.stream(ratios).anyMatch(ratio -> ratio > LARGEST / 2)) {
      return Optional.empty();
    }
    double[] sd = new double[levels.size() + 1];
    for (int f = 0; f < ratios.length; f++) {
      sd[f] = ratios[f] * residual;
    }
    sd[ratios.length] = residual;
    double allowed =
        fit.deviance() + new ChiSquaredDistribution(null, 1).inverseCumulativeProbability(coverage);
    List<Component> components = new ArrayList<>();
    for (int c = 0; c < sd.length; c++) {
      components.add(new Profile(likelihood, sd, c, allowed).component());
    }
    return Optional.of(
        new VarianceComponents(
            components.subList(0, ratios.length),
            components.get(ratios.length),
            fit.mean(),
            values.length));
  }

  /** A search ends near zero, where zero itself fits as well. */
  private static void dropNothings(double[] ratios, RestrictedLikelihood likelihood) {
    double deviance = likelihood.at(ratios).deviance();
    for (int f = 0; f < ratios.length; f++) {
      double found = ratios[f];
      ratios[f] = 0;
      if (likelihood.at(ratios).deviance() > deviance + NO_WORSE) {
        ratios[f] = found;
      }
    }
  }

  private static double[] filled(int length, double value) {
    double[] all = new double[length];
    Arrays.fill(all, value);
    return all;
  }

  /** The least of a function within bounds that are the same for every argument. */
  private static double[] least(
      ToDoubleFunction<double[]> of, double[] start, double lower, double upper) {
    if (start.length == 0) {
      return start;
    }
    if (start.length == 1) {
      UnivariateFunction one = x -> of.applyAsDouble(new double[] {x * x});
      double root =
          new BrentOptimizer(1e-9, 1e-12)
              .optimize(
                  new UnivariateObjectiveFunction(one),
                  GoalType.MINIMIZE,
                  new SearchInterval(Math.sqrt(lower), Math.sqrt(upper), Math.sqrt(start[0])),
                  new MaxEval(TRIES),
                  MaxIter.unlimited())
              .getPoint();
      return new double[] {better(of, root * root, lower)};
    }
    double[] found = start;
    for (int again = 0; again < RESTARTS; again++) {
      found = simplex(of, found, lower);
    }
    return found;
  }

  /** Nelder and Mead; arguments are mirrored at the lower bound. */
  private static double[] simplex(ToDoubleFunction<double[]> of, double[] start, double lower) {
    UnaryOperator<double[]> bounded =
        x -> Arrays.stream(x).map(v -> lower + Math.abs(v - lower)).toArray();
    return bounded.apply(
        new SimplexOptimizer(1e-12, 1e-10)
            .optimize(
                new ObjectiveFunction(x -> of.applyAsDouble(bounded.apply(x))),
                GoalType.MINIMIZE,
                new InitialGuess(start),
                new NelderMeadSimplex(start.length, 0.1),
                new MaxEval(TRIES))
            .getPoint());
  }

  private static double better(ToDoubleFunction<double[]> of, double found, double bound) {
    return of.applyAsDouble(new double[] {bound}) <= of.applyAsDouble(new double[] {found})
        ? bound
        : found;
  }

  /** The deviance as a function of one standard deviation, all others as they fit best. */
  private static final class Profile {
    private final RestrictedLikelihood likelihood;
    private final double[] best;
    private final int of;
    private final double allowed;

    Profile(RestrictedLikelihood likelihood, double[] best, int of, double allowed) {
      this.likelihood = likelihood;
      this.best = best;
      this.of = of;
      this.allowed = allowed;
    }

    Component component() {
      double scale = likelihood.scale();
      return new Component(best[of] * scale, lower() * scale, upper() * scale);
    }

    private boolean residual() {
      return of == best.length - 1;
    }

    private double beyond(double sd) {
      double[] start = new double[best.length - 1];
      int at = 0;
      for (int c = 0; c < best.length; c++) {
        if (c != of) {
          boolean last = c == best.length - 1;
          start[at++] = Math.max(best[c], last ? SMALLEST_RESIDUAL : 1e-3);
        }
      }
      ToDoubleFunction<double[]> rest = others -> likelihood.deviance(with(sd, others));
      double[] others = least(rest, start, residual() ? 0 : SMALLEST_RESIDUAL, LARGEST);
      return rest.applyAsDouble(others) - allowed;
    }

    private double[] with(double sd, double[] others) {
      double[] all = new double[best.length];
      int at = 0;
      for (int c = 0; c < all.length; c++) {
        all[c] = c == of ? sd : others[at++];
      }
      return all;
    }

    private double lower() {
      double least = residual() ? SMALLEST_RESIDUAL : 0;
      if (best[of] <= least || beyond(least) <= 0) {
        return residual() ? least : 0;
      }
      return new BrentSolver(1e-7, 1e-9).solve(TRIES, this::beyond, least, best[of]);
    }

    private double upper() {
      double far = Math.max(best[of], 0.1);
      while (beyond(far) < 0) {
        far *= 2;
        if (far > LARGEST) {
          return Double.POSITIVE_INFINITY;
        }
      }
      double from = Math.max(best[of], residual() ? SMALLEST_RESIDUAL : 0);
      return new BrentSolver(1e-7, 1e-9).solve(TRIES, this::beyond, from, far);
    }
  }
}
