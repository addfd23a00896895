// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.DoubleSupplier;
import java.util.stream.IntStream;
import millrace.analysis.causes.RivalPair.Rival;

/**
 * Observations and their covariance for a normal unit: that of the measurement, of the spread of
 * every part and of the model's shortcomings together. Fits the sizes of candidates by Gauss-Newton
 * steps (generalized least squares; methods.md 9). Immutable.
 */
final class CauseInferenceProblem {
  private static final int MOST_STEPS = 25;

  /** 1 - r^2 below which two causes are too correlated to be fitted together: they would cancel. */
  private static final double LEAST_APART = 0.02;

  private final UnitDeviationModel model;
  private final UnitModelOutput[] observables;
  private final double[] timesS;
  private final double[] base;
  private final double[][] jacobian;
  private final CorrelatedErrorWhitener whitener;
  private final double[] off;
  private final double[] beyond;

  /**
   * A problem.
   *
   * @param observables what was measured
   * @param timesS when each was, s; not a number where that is not known
   * @param measured one value per observable
   * @param covariance of the measurement, what the model leaves out point by point included
   */
  CauseInferenceProblem(
      UnitDeviationModel model,
      List<UnitModelOutput> observables,
      double[] timesS,
      double[] measured,
      double[][] covariance) {
    this.model = model;
    this.observables = observables.toArray(UnitModelOutput[]::new);
    this.timesS = timesS.clone();
    double[] normal = new double[model.size()];
    base = values(List.of(), new double[0]);
    jacobian = new double[base.length][];
    double[][] all = new double[base.length][];
    for (int i = 0; i < base.length; i++) {
      jacobian[i] = gradient(this.observables[i], normal);
      all[i] = Arrays.copyOf(covariance[i], i + 1);
      for (int j = 0; j <= i; j++) {
        all[i][j] += shared(jacobian[i], jacobian[j]);
      }
    }
    whitener = CorrelatedErrorWhitener.of(all);
    double[] difference = new double[base.length];
    for (int i = 0; i < difference.length; i++) {
      difference[i] = measured[i] - base[i];
    }
    off = whitener.apply(difference);
    beyond = beyond(difference, covariance);
  }

  /**
   * By how many standard uncertainties of the measurement each observation lies outside the worst
   * case of the parts; 0 inside.
   */
  private double[] beyond(double[] difference, double[][] covariance) {
    double[] times = new double[difference.length];
    for (int i = 0; i < times.length; i++) {
      double outside = Math.abs(difference[i]) - worst(i);
      times[i] = Math.max(0, outside) / Math.sqrt(covariance[i][i]);
    }
    return times;
  }

  /** The worst case of one observation: every unknown at its unfavourable limit. */
  double worst(int observation) {
    double sum = 0;
    for (int k = 0; k < jacobian[observation].length; k++) {
      sum += Math.abs(jacobian[observation][k]) * model.halfWidth(k);
    }
    return sum;
  }

  /** The observation that lies farthest outside of the worst case of the parts. */
  OptionalInt farthest(double k) {
    return IntStream.range(0, beyond.length)
        .filter(i -> beyond[i] > k)
        .boxed()
        .max(Comparator.comparingDouble(i -> beyond[i]))
        .map(OptionalInt::of)
        .orElse(OptionalInt.empty());
  }

  private double[] gradient(UnitModelOutput observable, double[] state) {
    double[] gradient = new double[state.length];
    for (int k = 0; k < gradient.length; k++) {
      gradient[k] = model.spread(k) > 0 ? slope(observable, state, k, model.spread(k)) : 0;
    }
    return gradient;
  }

  private static double slope(UnitModelOutput observable, double[] state, int k, double step) {
    double[] moved = state.clone();
    moved[k] = state[k] + step;
    double high = observable.at(moved);
    moved[k] = state[k] - step;
    return (high - observable.at(moved)) / (2 * step);
  }

  /** Covariance of two observables through the normal spread of the unit. */
  private double shared(double[] a, double[] b) {
    double sum = 0;
    for (int k = 0; k < a.length; k++) {
      double s = model.spread(k);
      sum += a[k] * b[k] * s * s;
    }
    return sum;
  }

  private double[] values(List<CauseCandidate> candidates, double[] states) {
    double[] values = new double[observables.length];
    for (int i = 0; i < values.length; i++) {
      values[i] = observables[i].at(state(candidates, states, timesS[i]));
    }
    return values;
  }

  int size() {
    return base.length;
  }

  /** When an observation was made, s; not a number where that is not known. */
  double timeS(int observation) {
    return timesS[observation];
  }

  /** The unit as it is at a time. */
  private double[] state(List<CauseCandidate> candidates, double[] states, double timeS) {
    double[] state = new double[model.size()];
    for (int k = 0; k < states.length; k++) {
      if (candidates.get(k).at(timeS)) {
        state[candidates.get(k).index()] += states[k];
      }
    }
    return state;
  }

  /** Whitened residuals: independent, of unit variance for a normal unit. */
  private double[] left(List<CauseCandidate> candidates, double[] states) {
    double[] shift = values(candidates, states);
    for (int i = 0; i < shift.length; i++) {
      shift[i] -= base[i];
    }
    double[] left = whitener.apply(shift);
    for (int i = 0; i < left.length; i++) {
      left[i] = off[i] - left[i];
    }
    return left;
  }

  private double[] column(CauseCandidate candidate, List<CauseCandidate> among, double[] states) {
    return whitener.apply(slopes(candidate, among, states));
  }

  /** Sensitivity of each observation to a candidate, the others at their present states. */
  private double[] slopes(CauseCandidate candidate, List<CauseCandidate> among, double[] states) {
    double step = 0.01 * candidate.tolerance();
    double[] slopes = new double[base.length];
    for (int i = 0; i < slopes.length; i++) {
      if (candidate.at(timesS[i])) {
        double[] state = state(among, states, timesS[i]);
        slopes[i] = slope(observables[i], state, candidate.index(), step);
      }
    }
    return slopes;
  }

  /** Sensitivity of each observation to a candidate, in an otherwise normal unit. */
  double[] slopes(CauseCandidate candidate) {
    return slopes(candidate, List.of(), new double[0]);
  }

  /** Estimated decrease of chi^2 by a candidate against no cause, from its sensitivities. */
  double promise(double[] slopes) {
    double[] column = whitener.apply(slopes);
    double along = CorrelatedErrorWhitener.dot(column, off, column.length);
    double free = square(column);
    return free > 0 ? along * along / free : 0;
  }

  private static double square(double[] z) {
    return CorrelatedErrorWhitener.dot(z, z, z.length);
  }

  /** Nothing abnormal. */
  CauseFit nothing() {
    return new CauseFit(List.of(), new double[0], new double[0], square(off));
  }

  /** Tells whether the observations are sensitive to a candidate far off its nominal value. */
  boolean notices(CauseCandidate candidate) {
    double[] column = column(candidate, List.of(), new double[0]);
    return Math.sqrt(square(column)) * candidate.tolerance() > 1e-6;
  }

  /** Estimated decrease of chi^2 by each further candidate, added to a fit of one. */
  double[] promises(CauseFit fit, List<CauseCandidate> further) {
    double[] left = left(fit.candidates(), fit.states());
    double[] known = column(fit.candidates().get(0), fit.candidates(), fit.states());
    double length = Math.max(square(known), Double.MIN_NORMAL);
    double[] promises = new double[further.size()];
    for (int k = 0; k < promises.length; k++) {
      double[] column = column(further.get(k), List.of(), new double[0]);
      double share = CorrelatedErrorWhitener.dot(column, known, column.length) / length;
      for (int i = 0; i < column.length; i++) {
        column[i] -= share * known[i];
      }
      double along = CorrelatedErrorWhitener.dot(column, left, column.length);
      double free = square(column);
      promises[k] = free > 0 ? along * along / free : 0;
    }
    return promises;
  }

  /** The best sizes of one or two candidates; empty if the data do not tell them apart. */
  Optional<CauseFit> fit(List<CauseCandidate> candidates, double[] start) {
    double[] states = start.clone();
    double chi = square(left(candidates, states));
    for (int step = 0; step < MOST_STEPS; step++) {
      double[] at = states;
      double[][] columns =
          candidates.stream().map(c -> column(c, candidates, at)).toArray(double[][]::new);
      double[][] inverse = inverse(columns);
      if (inverse.length == 0) {
        return Optional.empty();
      }
      double[] move = move(inverse, columns, left(candidates, states));
      double[] next = shortened(candidates, states, move, chi);
      double better = square(left(candidates, next));
      if (!(chi - better > 1e-4)) {
        return Optional.of(
            new CauseFit(candidates, states, uncertainties(candidates, inverse), chi));
      }
      states = next;
      chi = better;
    }
    return Optional.empty();
  }

  /** Halves a step until chi^2 does not increase. */
  private double[] shortened(
      List<CauseCandidate> candidates, double[] states, double[] move, double chi) {
    double[] next = next(candidates, states, move);
    for (int i = 0; i < 12 && square(left(candidates, next)) > chi; i++) {
      for (int k = 0; k < move.length; k++) {
        move[k] /= 2;
      }
      next = next(candidates, states, move);
    }
    return next;
  }

  private static double[][] inverse(double[][] columns) {
    int n = columns[0].length;
    double a = CorrelatedErrorWhitener.dot(columns[0], columns[0], n);
    if (columns.length == 1) {
      return a > 0 ? new double[][] {{1 / a}} : new double[0][];
    }
    double b = CorrelatedErrorWhitener.dot(columns[0], columns[1], n);
    double d = CorrelatedErrorWhitener.dot(columns[1], columns[1], n);
    double determinant = a * d - b * b;
    if (!(determinant > LEAST_APART * a * d)) {
      return new double[0][];
    }
    return new double[][] {
      {d / determinant, -b / determinant}, {-b / determinant, a / determinant}
    };
  }

  private static double[] move(double[][] inverse, double[][] columns, double[] left) {
    double[] move = new double[columns.length];
    for (int k = 0; k < move.length; k++) {
      for (int j = 0; j < move.length; j++) {
        move[k] += inverse[k][j] * CorrelatedErrorWhitener.dot(columns[j], left, left.length);
      }
    }
    return move;
  }

  /** The next states; one outside its possible range returns to normal. */
  private static double[] next(List<CauseCandidate> candidates, double[] states, double[] move) {
    double[] next = new double[states.length];
    for (int k = 0; k < next.length; k++) {
      next[k] = states[k] + move[k];
      if (!candidates.get(k).possible(next[k])) {
        next[k] = 0;
      }
    }
    return next;
  }

  /** Standard uncertainties of the states, without the part's own normal spread. */
  private double[] uncertainties(List<CauseCandidate> candidates, double[][] inverse) {
    double[] u = new double[candidates.size()];
    for (int k = 0; k < u.length; k++) {
      double own = model.spread(candidates.get(k).index());
      u[k] = Math.sqrt(Math.max(inverse[k][k] - own * own, 1e-4 * inverse[k][k]));
    }
    return u;
  }

  /** The metric of the observations and one more measurement. */
  CorrelatedErrorWhitener with(Extra extra) {
    double[] gradient = gradient(extra.observable(), new double[model.size()]);
    double[] covariance = new double[base.length + 1];
    for (int i = 0; i < base.length; i++) {
      covariance[i] = shared(gradient, jacobian[i]);
    }
    covariance[base.length] = shared(gradient, gradient) + extra.u() * extra.u();
    return whitener.extended(covariance);
  }

  /**
   * By how many standard deviations one more measurement would separate two explanations that fit
   * the present observations: the second is fitted to the predictions of the first.
   */
  double apart(CauseFit truth, Rival other, Extra extra, CorrelatedErrorWhitener wider) {
    double[] z = wider.apply(difference(truth, other.fit(), extra));
    if (other.member().isEmpty()) {
      return Math.sqrt(square(z));
    }
    CauseCandidate doubted = other.member().get();
    CauseFit fit = other.fit();
    double[] from = state(fit.candidates(), fit.states(), Double.POSITIVE_INFINITY);
    double[] column = Arrays.copyOf(slopes(doubted, fit.candidates(), fit.states()), z.length);
    double step = 0.01 * doubted.tolerance();
    column[base.length] = slope(extra.observable(), from, doubted.index(), step);
    double[] g = wider.apply(column);
    double along = CorrelatedErrorWhitener.dot(z, g, z.length);
    return Math.sqrt(Math.max(0, square(z) - along * along / square(g)));
  }

  /** Predicted difference of a further measurement; it comes after any change of the unit. */
  private double[] difference(CauseFit to, CauseFit from, Extra extra) {
    double[] a = values(to.candidates(), to.states());
    double[] b = values(from.candidates(), from.states());
    double last = Double.POSITIVE_INFINITY;
    double[] difference = new double[a.length + 1];
    for (int i = 0; i < a.length; i++) {
      difference[i] = a[i] - b[i];
    }
    difference[a.length] =
        extra.observable().at(state(to.candidates(), to.states(), last))
            - extra.observable().at(state(from.candidates(), from.states(), last));
    return difference;
  }

  /**
   * What the last observations would show, drawn at random, if an explanation of those before them
   * is the truth: given those, by the joint normal distribution of all of them.
   *
   * @param truth fitted to the observations before
   * @param from the first that is drawn
   * @param normal gives standard normal deviates
   * @return one value for each observation from there on
   */
  double[] drawn(CauseFit truth, int from, DoubleSupplier normal) {
    double[] whitened = left(truth.candidates(), truth.states());
    for (int i = from; i < whitened.length; i++) {
      whitened[i] = normal.getAsDouble();
    }
    double[] error = whitener.undo(whitened);
    double[] predicted = values(truth.candidates(), truth.states());
    double[] drawn = new double[whitened.length - from];
    for (int i = 0; i < drawn.length; i++) {
      drawn[i] = predicted[from + i] + error[from + i];
    }
    return drawn;
  }

  /**
   * A measurement that could still be made.
   *
   * @param what it is
   * @param observable what it would show
   * @param u its standard uncertainty, in the unit of the observable
   */
  record Extra(FurtherMeasurement what, UnitModelOutput observable, double u) {
    String words() {
      return what.words();
    }
  }
}
