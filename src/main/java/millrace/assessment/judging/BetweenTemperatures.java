// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.judging;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.BoxJudgementBasis;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ErrorDistribution;
import millrace.evidence.MeasurementModel;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultQuantity;

/**
 * A quantity at a temperature between two at which it was measured (methods.md 7.1). What goes with
 * the output conductance may go as a constant that changes evenly or as a leakage, which doubles
 * every 10 K: the value lies in the middle of both courses, and their distance is a rectangular
 * error to either side; a resistance is their reciprocal. Everything else is taken as linear, with
 * the larger U. Immutable.
 */
final class BetweenTemperatures {
  /** Budget name of the error from the unknown course between two temperatures. */
  static final String COURSE = "course between temperatures";

  /** Leakage doubles every 10 K or so (common practice, no source; methods.md 11). */
  private static final double DOUBLES_K = 10;

  private static final Set<ResultQuantity> SLOPES =
      EnumSet.of(ResultQuantity.OUTPUT_CONDUCTANCE, ResultQuantity.LOAD_REGULATION);

  private static final BoxJudgementBasis PREDICTED =
      new BoxJudgementBasis(BoxJudgementBasis.Basis.PREDICTED, Optional.empty(), List.of());

  private final Result below;
  private final Result above;
  private final double degC;
  private final double coverage;
  private final double even;
  private final double doubling;

  BetweenTemperatures(
      LimitAnswerCandidate below, LimitAnswerCandidate above, double degC, double coverage) {
    this.below = below.result();
    this.above = above.result();
    this.degC = degC;
    this.coverage = coverage;
    double way = degC - below.temperatureDegC().orElseThrow();
    double whole = above.temperatureDegC().orElseThrow() - below.temperatureDegC().orElseThrow();
    this.even = way / whole;
    this.doubling =
        Math.expm1(Math.log(2) * way / DOUBLES_K) / Math.expm1(Math.log(2) * whole / DOUBLES_K);
  }

  /** Empty where one is a value and the other a bound, or the bounds are of different sides. */
  Optional<LimitAnswerCandidate> found() {
    if (below.outcome() instanceof ComputationOutcome.Value x
        && above.outcome() instanceof ComputationOutcome.Value y) {
      return Optional.of(candidate(found(x, y)));
    }
    if (below.outcome() instanceof ComputationOutcome.Bound x
        && above.outcome() instanceof ComputationOutcome.Bound y
        && x.side() == y.side()) {
      boolean least = x.side() == ComputationOutcome.Side.ABOVE;
      double weaker = least ? Math.min(x.value(), y.value()) : Math.max(x.value(), y.value());
      ComputationOutcome bound =
          new ComputationOutcome.Bound(x.side(), weaker, Math.min(x.n(), y.n()));
      return Optional.of(candidate(new Found(bound, wider().budget(), Course.LINEAR)));
    }
    return Optional.empty();
  }

  private enum Course {
    LINEAR("; linear between temperatures, Methods of Millrace 7.1"),
    BOTH("; between an even and a doubling course over temperature, Methods of Millrace 7.1");

    private final String words;

    Course(String words) {
      this.words = words;
    }
  }

  private record Found(ComputationOutcome outcome, List<BudgetComponent> budget, Course course) {}

  private Found found(ComputationOutcome.Value x, ComputationOutcome.Value y) {
    if (SLOPES.contains(below.quantity())) {
      return slope(x, y);
    }
    boolean reciprocal = below.quantity() == ResultQuantity.OUTPUT_RESISTANCE;
    return reciprocal && x.value() > 0 && y.value() > 0 ? resistance(x, y) : linear(x, y);
  }

  private Found slope(ComputationOutcome.Value x, ComputationOutcome.Value y) {
    double share = (even + doubling) / 2;
    double value = x.value() + share * (y.value() - x.value());
    int n = Math.min(x.n(), y.n());
    if (x.uncertainty().isEmpty() || y.uncertainty().isEmpty()) {
      return new Found(
          new ComputationOutcome.Value(value, Optional.empty(), n), List.of(), Course.BOTH);
    }
    double apart = Math.abs((even - doubling) * (y.value() - x.value()));
    Budget budget =
        Budget.of(
            errors((1 - share) * standard(x) + share * standard(y))
                .plus(value)
                .with(
                    ErrorSource.within(
                        COURSE, ErrorSource.RUN, "course", apart, below.quantity().unit()),
                    1));
    return new Found(
        new ComputationOutcome.Value(value, Optional.of(budget.uncertainty(coverage)), n),
        budget.components(),
        Course.BOTH);
  }

  /**
   * The errors of both, as large together as where they share all of them: u of the mean of two
   * values is at most the mean of their u. They are shown in the proportions of the wider one.
   */
  private Estimate errors(double standard) {
    Result wider = wider();
    double whole = standard((ComputationOutcome.Value) wider.outcome());
    Estimate errors = Estimate.exact(0);
    for (BudgetComponent row : wider.budget()) {
      if (row.contribution() > 0) {
        ErrorSource source =
            new ErrorSource(
                row.component(),
                row.group(),
                row.component() + " " + row.unit(),
                row.distribution(),
                row.degreesOfFreedom(),
                row.value(),
                row.unit());
        errors = errors.with(source, row.contribution() / row.value() * standard / whole);
      }
    }
    return errors;
  }

  private static double standard(ComputationOutcome.Value of) {
    return of.uncertainty().map(ComputationOutcome.Uncertainty::standard).orElse(0.0);
  }

  /** The larger half of the interval of the reciprocal, and U of the wider visit beside it. */
  private Found resistance(ComputationOutcome.Value x, ComputationOutcome.Value y) {
    double first = 1 / x.value();
    double last = 1 / y.value();
    double middle = first + (even + doubling) / 2 * (last - first);
    double half = Math.abs((even - doubling) * (last - first));
    double least = Math.max(middle - half, Math.min(first, last));
    double value = 1 / middle;
    double apart = Math.max(1 / least - value, value - 1 / (middle + half));
    List<BudgetComponent> rows = new ArrayList<>(wider().budget());
    rows.add(
        new BudgetComponent(
            COURSE,
            ErrorSource.RUN,
            apart / Math.sqrt(3),
            below.quantity().unit(),
            ErrorDistribution.RECTANGULAR,
            1,
            apart / Math.sqrt(3),
            OptionalDouble.empty()));
    Optional<ComputationOutcome.Uncertainty> u =
        x.uncertainty().flatMap(p -> y.uncertainty().map(q -> larger(p, q, value, apart)));
    int n = Math.min(x.n(), y.n());
    return new Found(new ComputationOutcome.Value(value, u, n), rows, Course.BOTH);
  }

  private Found linear(ComputationOutcome.Value x, ComputationOutcome.Value y) {
    double value = x.value() + even * (y.value() - x.value());
    Optional<ComputationOutcome.Uncertainty> u =
        x.uncertainty().flatMap(p -> y.uncertainty().map(q -> larger(p, q, value, 0)));
    return new Found(
        new ComputationOutcome.Value(value, u, Math.min(x.n(), y.n())),
        wider().budget(),
        Course.LINEAR);
  }

  private LimitAnswerCandidate candidate(Found found) {
    Result near = even < 0.5 ? below : above;
    Result there =
        new Result(
            near.quantity(),
            near.range(),
            near.at().with(ResultConditionKey.TEMPERATURE_DEGC, degC),
            found.outcome(),
            Optional.empty(),
            found.budget(),
            near.ppmBase(),
            near.method() + found.course().words,
            near.notes(),
            Optional.of(model(found.course())));
    return new LimitAnswerCandidate(there, PREDICTED, OptionalDouble.of(degC));
  }

  private MeasurementModel model(Course course) {
    boolean reciprocal =
        course == Course.BOTH && below.quantity() == ResultQuantity.OUTPUT_RESISTANCE;
    double share = course == Course.BOTH ? (even + doubling) / 2 : even;
    return MeasurementModel.of(
            (reciprocal ? "1/y = (1 - s)/y_1 + s/y_2" : "y = (1 - s) y_1 + s y_2")
                + ", s the share of the way"
                + (course == Course.BOTH
                    ? ", in the middle of an even course and of one that doubles every 10 K"
                    : ""))
        .with("s", "1", share)
        .with("y_1", below.quantity().unit(), value(below))
        .with("y_2", above.quantity().unit(), value(above));
  }

  /** The result with the larger uncertainty. */
  private Result wider() {
    return expanded(below) >= expanded(above) ? below : above;
  }

  private static double expanded(Result r) {
    return r.outcome() instanceof ComputationOutcome.Value v
        ? v.uncertainty().map(ComputationOutcome.Uncertainty::expanded).orElse(0.0)
        : 0;
  }

  private static double value(Result of) {
    return of.outcome() instanceof ComputationOutcome.Value v
        ? v.value()
        : ((ComputationOutcome.Bound) of.outcome()).value();
  }

  private static ComputationOutcome.Uncertainty larger(
      ComputationOutcome.Uncertainty p,
      ComputationOutcome.Uncertainty q,
      double value,
      double more) {
    ComputationOutcome.Uncertainty u = p.expanded() >= q.expanded() ? p : q;
    double standard = Math.hypot(u.standard(), more / Math.sqrt(3));
    double expanded = u.expanded() + more;
    return new ComputationOutcome.Uncertainty(
        standard,
        expanded,
        value - expanded,
        value + expanded,
        u.coverage(),
        more > 0 ? expanded / standard : u.coverageFactor(),
        u.degreesOfFreedom());
  }
}
