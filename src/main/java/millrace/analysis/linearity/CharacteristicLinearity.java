// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.linearity;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.function.BiFunction;
import millrace.analysis.regression.DataDecimalStep;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.Quantiles;
import millrace.analysis.uncertainty.ResultBuilder;
import millrace.analysis.uncertainty.ResultBuilder.Subject;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.MeasurementModel;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;

/**
 * The four linearity results of one characteristic. The largest of several deviations is biased
 * upward by noise: where it does not exceed the limit for noise alone at the stated coverage, the
 * result is a bound; where several deviations are near the largest, a budget component allows for
 * the bias.
 */
final class CharacteristicLinearity {
  static final int LEAST = 3;

  private static final double PPM = 1e6;

  /** One point: x without error (errors of x count as errors of y), y in A. */
  record Knot(double x, Estimate y) {}

  /**
   * The base of the deviations, and the meaning of x.
   *
   * @param baseA base of the ppm, A
   * @param x symbol of x
   * @param unit unit of x
   */
  record Axes(double baseA, String x, String unit) {}

  /** Kind of line, and by how much its deviations scatter more than y's own noise. */
  private enum Kind {
    INDEPENDENT(
        ResultQuantity.LINEARITY_INDEPENDENT,
        LinearityDeviation::independent,
        1,
        "from the minimax line"),
    TERMINAL(
        ResultQuantity.LINEARITY_TERMINAL,
        LinearityDeviation::terminal,
        Math.sqrt(2),
        "from the line through both end points"),
    ZERO(
        ResultQuantity.LINEARITY_ZERO,
        LinearityDeviation::zeroBased,
        Math.sqrt(2),
        "from the best line through the first point"),
    LEAST_SQUARES(
        ResultQuantity.LINEARITY_LEAST_SQUARES,
        LinearityDeviation::leastSquares,
        1,
        "largest residual of the least-squares line");

    private final ResultQuantity quantity;
    private final BiFunction<double[], double[], LinearityDeviation> way;
    private final double scatter;
    private final String words;

    Kind(
        ResultQuantity quantity,
        BiFunction<double[], double[], LinearityDeviation> way,
        double scatter,
        String words) {
      this.quantity = quantity;
      this.way = way;
      this.scatter = scatter;
      this.words = words;
    }
  }

  private final List<Knot> knots;
  private final double coverage;
  private final Axes axes;
  private final double[] x;
  private final double[] y;
  private final double noise;

  private CharacteristicLinearity(List<Knot> knots, double coverage, Axes axes) {
    this.knots = knots;
    this.coverage = coverage;
    this.axes = axes;
    this.x = new double[knots.size()];
    this.y = new double[x.length];
    double most = 0;
    for (int i = 0; i < x.length; i++) {
      x[i] = knots.get(i).x();
      y[i] = knots.get(i).y().value();
      most = Math.max(most, knots.get(i).y().pointUncertainty());
    }
    this.noise = most;
  }

  /**
   * The four results.
   *
   * @param knots in any order; equal x are averaged
   * @param subject what they are of; quantity and method are set for each, the method's end is kept
   * @param axes base of the ppm and meaning of x
   * @param notes for each
   */
  static List<Result> results(List<Knot> knots, Subject subject, Axes axes, List<String> notes) {
    List<Knot> merged = merged(rounded(knots));
    List<Result> results = new ArrayList<>();
    CharacteristicLinearity all = new CharacteristicLinearity(merged, subject.coverage(), axes);
    for (Kind kind : Kind.values()) {
      Subject own = named(subject, kind);
      if (merged.size() < LEAST) {
        results.add(ResultBuilder.missing(own, tooFew(merged.size()), merged.size()));
      } else if (!(axes.baseA() > 0)) {
        results.add(
            ResultBuilder.missing(
                own, "what the ppm are counted of is 0: no ratio", merged.size()));
      } else {
        results.add(all.result(kind, own, notes));
      }
    }
    return results;
  }

  /** Points without a known error get the uncertainty of their last decimal. */
  private static List<Knot> rounded(List<Knot> knots) {
    for (Knot k : knots) {
      if (k.y().pointUncertainty() > 0) {
        return knots;
      }
    }
    double step = DataDecimalStep.of(knots.stream().map(Knot::y).toList());
    if (step == 0) {
      return knots;
    }
    List<Knot> with = new ArrayList<>();
    for (Knot k : knots) {
      ErrorSource own =
          DataDecimalStep.rounding(step, ErrorSource.POINT, "value " + with.size(), "A");
      with.add(new Knot(k.x(), k.y().with(own, 1)));
    }
    return with;
  }

  private static String tooFew(int n) {
    return "%s different points, needs at least %s: any line goes through fewer"
        .formatted(n, LEAST);
  }

  /** The four results with one reason why there are none. */
  static List<Result> missing(Subject subject, String reason, int n) {
    List<Result> results = new ArrayList<>();
    for (Kind kind : Kind.values()) {
      results.add(ResultBuilder.missing(named(subject, kind), reason, n));
    }
    return results;
  }

  private static Subject named(Subject subject, Kind kind) {
    return new Subject(
        kind.quantity,
        subject.range(),
        subject.at(),
        subject.ppmBase(),
        "largest deviation " + kind.words + ", " + subject.method(),
        subject.coverage());
  }

  /** In rising order of x; equal x are averaged. */
  static List<Knot> merged(List<Knot> knots) {
    List<Knot> sorted = new ArrayList<>(knots);
    sorted.sort(Comparator.comparingDouble(Knot::x));
    List<Knot> merged = new ArrayList<>();
    for (int from = 0; from < sorted.size(); ) {
      int to = from;
      List<Estimate> same = new ArrayList<>();
      while (to < sorted.size() && sorted.get(to).x() == sorted.get(from).x()) {
        same.add(sorted.get(to++).y());
      }
      merged.add(new Knot(sorted.get(from).x(), Estimate.mean(same)));
      from = to;
    }
    return merged;
  }

  private Result result(Kind kind, Subject subject, List<String> notes) {
    LinearityDeviation deviation = kind.way.apply(x, y);
    List<String> all = new ArrayList<>(notes);
    int n = knots.size();
    if (knots.get(0).y().isDrawn()) {
      return ResultBuilder.drawn(subject, deviation.largest() * (PPM / axes.baseA()), n);
    }
    double chance = kind.scatter * noise * beyondChance(n);
    if (noise > 0 && deviation.largest() <= chance) {
      all.add(
          "no deviation stands out from noise: stated is the largest, plus what noise may hide");
      double bound = (deviation.largest() + chance) * PPM / axes.baseA();
      return ResultBuilder.bound(
          subject, new ComputationOutcome.Bound(ComputationOutcome.Side.BELOW, bound, n), all);
    }
    Estimate linear =
        Estimate.combine(0, deviation.weights(), knots.stream().map(Knot::y).toList());
    double own = linear.pointUncertainty();
    double choice = own * expectedLargest(rivals(deviation, kind.scatter * noise));
    ErrorSource source =
        ErrorSource.within(
            "choice of the largest deviation", ErrorSource.RUN, "choice", choice, "A");
    Estimate largest = linear.errorsOnly().plus(deviation.largest()).with(source, 1);
    return ResultBuilder.value(subject, largest.times(PPM / axes.baseA()), n, all)
        .by(
            MeasurementModel.of(
                    "E = max |I_i - (I_0 + s %s_i)|/I_b, I_0 + s %s the line"
                        .formatted(axes.x(), axes.x()))
                .with("I_b", "A", axes.baseA())
                .with("I_0", "A", deviation.intercept())
                .with("s", "A/" + axes.unit(), deviation.slope())
                .with(axes.x() + "_i", axes.unit(), Arrays.stream(x).boxed().toList())
                .with("I_i", "A", Arrays.stream(y).boxed().toList()));
  }

  /** Bound of the largest of n noise values at the coverage (Bonferroni). */
  private double beyondChance(int n) {
    return Quantiles.normal(1 - (1 - coverage) / (2 * n));
  }

  /**
   * Number of points, beside those that fix the line, within two standard deviations of the
   * largest.
   */
  private int rivals(LinearityDeviation deviation, double scatter) {
    double[] weights = deviation.weights();
    int rivals = 0;
    for (int i = 0; i < x.length; i++) {
      double rest = Math.abs(y[i] - deviation.intercept() - deviation.slope() * x[i]);
      boolean near = rest > 0 && rest >= deviation.largest() - 2 * scatter;
      rivals += near && Math.abs(weights[i]) < 0.25 ? 1 : 0;
    }
    return rivals;
  }

  /** About the mean of the largest of a point and its rivals, in their standard deviations. */
  private static double expectedLargest(int rivals) {
    return Quantiles.normal((1.0 + rivals) / (2.0 + rivals));
  }
}
