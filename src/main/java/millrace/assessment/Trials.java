package millrace.assessment;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.MonteCarlo;
import millrace.analysis.uncertainty.MonteCarlo.Comparison;
import millrace.analysis.uncertainty.MonteCarlo.Finding;
import millrace.evidence.Outcome;
import millrace.evidence.Result;
import millrace.quantity.Numbers;
import millrace.time.Seeds;

/**
 * Holds the first-order results of a range against trials: every error of every point is redrawn,
 * the whole range is assessed again, and each result says whether its interval agrees (JCGM
 * 101:2008, 8; measurement.md 2.5).
 */
final class Trials {
  private static final int MOST = 20_000;

  /** Beyond this many of their own standard errors the ends of the trials' interval tell. */
  private static final double CLEAR = 3;

  private final String range;
  private final List<ReducedPoint> points;
  private final Basis basis;
  private final List<Estimate> inputs = new ArrayList<>();

  Trials(String range, List<ReducedPoint> points, Basis basis) {
    this.range = range;
    this.points = points;
    this.basis = basis;
    for (ReducedPoint p : points) {
      inputs.add(p.currentA());
      inputs.add(p.voltageV());
      inputs.add(p.temperatureDegC().orElse(Estimate.exact(0)));
    }
  }

  /**
   * The results with what the trials say of them.
   *
   * @param firstOrder what the range came to
   * @param seeds where chance comes from
   */
  List<Result> beside(List<Result> firstOrder, Seeds seeds) {
    MonteCarlo.Plan plan = new MonteCarlo.Plan(seeds.derive(range), basis.coverage(), MOST, true);
    List<Optional<Finding>> found =
        MonteCarlo.all(inputs, firstOrder.size(), drawn -> again(drawn, firstOrder), plan);
    List<Result> noted = new ArrayList<>();
    for (int i = 0; i < firstOrder.size(); i++) {
      Result result = firstOrder.get(i);
      noted.add(found.get(i).map(f -> noted(result, f)).orElse(result));
    }
    return noted;
  }

  private List<OptionalDouble> again(double[] drawn, List<Result> firstOrder) {
    List<ReducedPoint> moved = new ArrayList<>();
    for (int i = 0; i < points.size(); i++) {
      moved.add(moved(points.get(i), drawn, 3 * i));
    }
    List<Result> now = new RangeAssessor(range, moved, basis).results();
    List<OptionalDouble> values = new ArrayList<>();
    for (int i = 0; i < firstOrder.size(); i++) {
      boolean same =
          now.size() == firstOrder.size()
              && now.get(i).quantity() == firstOrder.get(i).quantity()
              && now.get(i).outcome() instanceof Outcome.Value;
      values.add(
          same
              ? OptionalDouble.of(((Outcome.Value) now.get(i).outcome()).value())
              : OptionalDouble.empty());
    }
    return values;
  }

  private static ReducedPoint moved(ReducedPoint p, double[] drawn, int at) {
    return new ReducedPoint(
        p.point(),
        p.name(),
        p.stay(),
        p.timeS(),
        to(p.currentA(), drawn[at]),
        to(p.voltageV(), drawn[at + 1]),
        p.temperatureDegC().map(t -> to(t, drawn[at + 2])),
        p.unsteady(),
        p.notes());
  }

  private static Estimate to(Estimate estimate, double value) {
    return estimate.errorsOnly().plus(value);
  }

  private static Result noted(Result result, Finding trials) {
    if (!(result.outcome() instanceof Outcome.Value value) || value.uncertainty().isEmpty()) {
      return result;
    }
    Outcome.Uncertainty u = value.uncertainty().get();
    Comparison comparison = MonteCarlo.compare(u, trials);
    return result.noting(
        "Monte Carlo, %d trials: mean %s, u %s, interval %s to %s; %s"
            .formatted(
                trials.trials(),
                Numbers.significant(trials.mean(), 6),
                Numbers.significant(trials.standardUncertainty(), 3),
                Numbers.significant(trials.lower(), 6),
                Numbers.significant(trials.upper(), 6),
                verdict(comparison, trials, u.coverage())));
  }

  private static String verdict(Comparison comparison, Finding trials, double coverage) {
    double off = Math.max(comparison.lowerDifference(), comparison.upperDifference());
    String tolerance = Numbers.significant(comparison.tolerance(), 2);
    if (comparison.agrees()) {
      return "it agrees with the first-order interval within " + tolerance;
    }
    boolean clear = off > comparison.tolerance() + CLEAR * endError(trials, coverage);
    return clear
        ? "the two disagree: ends differ by up to %s, tolerance %s"
            .formatted(Numbers.significant(off, 2), tolerance)
        : "ends differ by up to %s, which so many trials do not tell from the tolerance of %s"
            .formatted(Numbers.significant(off, 2), tolerance);
  }

  /** Standard error of an end: that of a quantile of a normal sample, about 2 u from the mean. */
  private static double endError(Finding trials, double coverage) {
    double tail = (1 - coverage) / 2;
    double density = Math.exp(-2) / Math.sqrt(2 * Math.PI);
    return trials.standardUncertainty() * Math.sqrt(tail * (1 - tail) / trials.trials()) / density;
  }
}
