// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import millrace.analysis.causes.CauseObservation.OfCurrent;
import millrace.analysis.design.RangeCircuitModel;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.part.AskedPartValue;
import millrace.evidence.part.PartValue;

/** What further measurements would find if an explanation were the truth, drawn at random. */
final class FurtherObservations {
  /** Where the same range has no current yet, relative (as the measurements that are tried). */
  private static final double U_RELATIVE = 20e-6;

  private static final double LATER_S = 3600;
  private static final String LATER = "later";

  private final CauseDiagnoser.InDetail found;
  private final List<FurtherMeasurement> measurements;
  private final List<OfCurrent> known = new ArrayList<>();
  private final double afterS;

  FurtherObservations(CauseDiagnoser.InDetail found, List<FurtherMeasurement> measurements) {
    this.found = found;
    this.measurements = measurements;
    for (CauseObservation o : found.used()) {
      if (o instanceof OfCurrent current) {
        known.add(current);
      }
    }
    this.afterS =
        LATER_S
            + known.stream().mapToDouble(OfCurrent::timeS).filter(Double::isFinite).max().orElse(0);
  }

  /** One value for each, drawn by the errors of all that is and would be known. */
  List<CauseObservation> drawn(CauseFit truth, SplittableRandom random) {
    List<CauseObservation> expected = expected(truth);
    CauseInferenceProblem problem =
        CauseProblemBuilder.problem(found.model(), found.used(), expected);
    int from = problem.size() - expected.size();
    double[] values = problem.drawn(truth, from, random::nextGaussian);
    List<CauseObservation> drawn = new ArrayList<>();
    for (int i = 0; i < values.length; i++) {
      drawn.add(with(expected.get(i), values[i]));
    }
    return drawn;
  }

  private List<CauseObservation> expected(CauseFit truth) {
    double[] state = new double[found.model().size()];
    for (CauseCandidate c : truth.candidates()) {
      state[c.index()] += truth.state(c);
    }
    List<CauseObservation> expected = new ArrayList<>();
    for (FurtherMeasurement m : measurements) {
      if (m instanceof FurtherMeasurement.OfCurrent current) {
        expected.add(current(current, state));
      } else if (m instanceof FurtherMeasurement.ByHand byHand) {
        byHand.degC().forEach(t -> value(byHand.asked(), t, state).ifPresent(expected::add));
      }
    }
    return expected;
  }

  /** With the errors of the meter that are in the nearest current of that range. */
  private OfCurrent current(FurtherMeasurement.OfCurrent m, double[] state) {
    RangeCircuitModel range = found.model().circuit().range(m.range()).orElseThrow();
    double nominalA = range.design().nominalA();
    String meter = known.get(0).meter();
    double size = Math.exp(found.model().current(range, m.terminalV(), m.degC(), meter).at(state));
    double value = Math.copySign(size, nominalA);
    Estimate estimate =
        nearest(m)
            .map(c -> c.current().times(value / c.current().value()).withSources(s -> later(s)))
            .orElseGet(
                () ->
                    Estimate.exact(value)
                        .with(
                            ErrorSource.normal(
                                "meter",
                                ErrorSource.INSTRUMENT_AND_RANGE,
                                "range " + m.range(),
                                U_RELATIVE * size,
                                "A"),
                            1));
    return new OfCurrent(
        m.range(),
        m.terminalV(),
        m.degC(),
        estimate,
        meter,
        known.get(0).at().map(at -> new CauseObservation.Moment(afterS, LATER)));
  }

  private static ErrorSource later(ErrorSource source) {
    return source.inRun(LATER);
  }

  private Optional<OfCurrent> nearest(FurtherMeasurement.OfCurrent m) {
    return known.stream()
        .filter(c -> c.range().equals(m.range()))
        .min(
            Comparator.<OfCurrent>comparingDouble(c -> Math.abs(c.degC() - m.degC()))
                .thenComparingDouble(c -> Math.abs(c.terminalV() - m.terminalV())));
  }

  private Optional<CauseObservation> value(AskedPartValue asked, double degC, double[] state) {
    return observable(asked, degC)
        .map(o -> part(asked, degC, o.value().applyAsDouble(o.output().at(state))));
  }

  private Optional<PartObservable> observable(AskedPartValue asked, double degC) {
    return new PartObservables(found.model())
        .of(asked.quantity(), asked.of(), degC, asked.terminalV().orElse(0));
  }

  private CauseObservation part(AskedPartValue asked, double degC, double value) {
    return new CauseObservation.OfPart(
        new PartValue(
            asked.quantity(),
            asked.of(),
            value,
            asked.standardUncertainty(value),
            OptionalDouble.of(degC),
            asked.terminalV()),
        afterS);
  }

  /** The same observation with a value that was drawn, as the model counts it. */
  private CauseObservation with(CauseObservation expected, double modelled) {
    if (expected instanceof OfCurrent c) {
      double value = Math.copySign(Math.exp(modelled), c.current().value());
      Estimate moved = c.current().times(value / c.current().value());
      return new OfCurrent(c.range(), c.terminalV(), c.degC(), moved, c.meter(), c.at());
    }
    PartValue value = ((CauseObservation.OfPart) expected).value();
    PartObservable observable = CauseProblemBuilder.observable(found.model(), value).orElseThrow();
    return new CauseObservation.OfPart(
        new PartValue(
            value.quantity(),
            value.of(),
            observable.value().applyAsDouble(modelled),
            value.standardUncertainty(),
            value.degC(),
            value.terminalV()),
        afterS);
  }
}
