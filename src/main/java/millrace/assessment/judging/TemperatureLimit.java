// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.judging;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.response.UnitResponse;
import millrace.datasheet.Datasheet;
import millrace.evidence.AtKey;
import millrace.evidence.Covers;
import millrace.evidence.MeasurementModel;
import millrace.evidence.Outcome;
import millrace.evidence.Result;
import millrace.evidence.Span;
import millrace.quantity.Dimension;
import millrace.quantity.Quantities;

/**
 * A limit on something that is measured at one temperature at a time. Between temperatures it is
 * taken as linear; where it was not measured, slopes over voltage come from the unit's model
 * (methods.md 7.1, 11.3, 11.4).
 */
final class TemperatureLimit {
  private static final Covers PREDICTED =
      new Covers(Covers.Basis.PREDICTED, Optional.empty(), List.of());

  private final Promise promise;
  private final Datasheet sheet;
  private final List<Result> answers;
  private final KnownConditions known;
  private final SlopeOfModel model;

  TemperatureLimit(
      Promise promise,
      Datasheet sheet,
      List<Result> answers,
      Optional<UnitResponse> unit,
      KnownConditions known) {
    this.promise = promise;
    this.sheet = sheet;
    this.answers = answers;
    this.known = known;
    this.model = new SlopeOfModel(promise, sheet, unit);
  }

  Result judged() {
    List<Candidate> told =
        answers.stream()
            .filter(r -> !(r.outcome() instanceof Outcome.Missing))
            .map(this::placed)
            .sorted(Comparator.comparingDouble(c -> c.temperatureDegC().orElse(0)))
            .toList();
    if (told.isEmpty()) {
      return Unjudged.unanswered(promise, sheet, answers);
    }
    List<String> wanting = new ArrayList<>(voltage());
    if (told.stream().anyMatch(c -> c.temperatureDegC().isEmpty())) {
      wanting.add(Temperatures.UNKNOWN);
      return Unjudged.missing(promise, sheet, wanting, told.size());
    }
    List<Candidate> candidates = new ArrayList<>(inside(told));
    wanting.addAll(ends(told, candidates));
    Optional<Candidate> worst = Candidate.worst(candidates, promise, sheet);
    boolean fails =
        worst.filter(c -> c.judged(promise, sheet).judgement().orElseThrow().failed()).isPresent();
    return wanting.isEmpty() || fails
        ? worst
            .map(c -> new Candidate(c.result(), c.covers().wanting(wanting), c.temperatureDegC()))
            .map(c -> c.judged(promise, sheet))
            .orElseGet(() -> Unjudged.unanswered(promise, sheet, answers))
        : Unjudged.missing(promise, sheet, wanting, told.size());
  }

  /** A result without a temperature of its own is one at T_ref, where temperatures are known. */
  private Candidate placed(Result r) {
    boolean own = r.at().number(AtKey.TEMPERATURE_DEGC).isPresent();
    return Candidate.measured(
        r,
        own || known.temperatureDegC().isEmpty()
            ? r.at().number(AtKey.TEMPERATURE_DEGC)
            : OptionalDouble.of(sheet.referenceTemperatureDegC()));
  }

  private List<Candidate> inside(List<Candidate> told) {
    Span asked = promise.temperatureDegC();
    return told.stream()
        .filter(c -> asked.contains(c.temperatureDegC().getAsDouble(), KnownConditions.SLACK_K))
        .toList();
  }

  /** Up to which voltage the current would have to be measured. */
  private List<String> voltage() {
    Optional<Span> asked = promise.box().terminalVoltageV();
    if (asked.isEmpty()) {
      return List.of();
    }
    double upper = Math.max(Math.abs(asked.get().lower()), Math.abs(asked.get().upper()));
    boolean reached =
        known.highestVoltageV().orElse(0) >= upper * (1 - KnownConditions.SLACK_RATIO);
    return reached
        ? List.of()
        : List.of("measure up to " + Quantities.print(upper, Dimension.VOLTAGE));
  }

  /** Adds what the ends of the span come to; what cannot be told is wanting. */
  private List<String> ends(List<Candidate> told, List<Candidate> candidates) {
    Span asked = promise.temperatureDegC();
    List<Double> missing = new ArrayList<>();
    for (double end : new double[] {asked.lower(), asked.upper()}) {
      boolean measured =
          told.stream()
              .anyMatch(
                  c ->
                      Math.abs(c.temperatureDegC().getAsDouble() - end) <= KnownConditions.SLACK_K);
      if (!measured) {
        Optional<Candidate> between = between(told, end).or(() -> model.at(end));
        between.ifPresentOrElse(candidates::add, () -> missing.add(end));
      }
    }
    return Temperatures.measureAt(missing);
  }

  private Optional<Candidate> between(List<Candidate> told, double degC) {
    Optional<Candidate> below =
        told.stream().filter(c -> c.temperatureDegC().getAsDouble() < degC).reduce((a, b) -> b);
    Optional<Candidate> above =
        told.stream().filter(c -> c.temperatureDegC().getAsDouble() > degC).findFirst();
    return below.flatMap(a -> above.flatMap(b -> between(a, b, degC)));
  }

  private static Optional<Candidate> between(Candidate a, Candidate b, double degC) {
    double from = a.temperatureDegC().getAsDouble();
    double share = (degC - from) / (b.temperatureDegC().getAsDouble() - from);
    return outcome(a.result().outcome(), b.result().outcome(), share)
        .map(
            o -> {
              Result near = share < 0.5 ? a.result() : b.result();
              Result there =
                  new Result(
                      near.quantity(),
                      near.range(),
                      near.at().with(AtKey.TEMPERATURE_DEGC, degC),
                      o,
                      Optional.empty(),
                      wider(a, b).budget(),
                      near.ppmBase(),
                      near.method() + "; linear between temperatures, Methods of Millrace 11.4",
                      near.notes(),
                      Optional.of(
                          MeasurementModel.of("y = (1 - s) y_1 + s y_2, s the share of the way")
                              .with("s", "1", share)
                              .with("y_1", near.quantity().unit(), value(a))
                              .with("y_2", near.quantity().unit(), value(b))));
              return new Candidate(there, PREDICTED, OptionalDouble.of(degC));
            });
  }

  /** The one with the larger uncertainty, which is the one that is stated. */
  private static Result wider(Candidate a, Candidate b) {
    return expanded(a.result()) >= expanded(b.result()) ? a.result() : b.result();
  }

  private static double expanded(Result r) {
    return r.outcome() instanceof Outcome.Value v
        ? v.uncertainty().map(Outcome.Uncertainty::expanded).orElse(0.0)
        : 0;
  }

  private static double value(Candidate of) {
    return of.result().outcome() instanceof Outcome.Value v
        ? v.value()
        : ((Outcome.Bound) of.result().outcome()).value();
  }

  /** The value between two, with the larger of their uncertainties; of two bounds the weaker. */
  private static Optional<Outcome> outcome(Outcome a, Outcome b, double share) {
    if (a instanceof Outcome.Value x && b instanceof Outcome.Value y) {
      double value = x.value() + share * (y.value() - x.value());
      Optional<Outcome.Uncertainty> u =
          x.uncertainty().flatMap(p -> y.uncertainty().map(q -> larger(p, q, value)));
      return Optional.of(new Outcome.Value(value, u, Math.min(x.n(), y.n())));
    }
    if (a instanceof Outcome.Bound x && b instanceof Outcome.Bound y && x.side() == y.side()) {
      boolean above = x.side() == Outcome.Side.ABOVE;
      double weaker = above ? Math.min(x.value(), y.value()) : Math.max(x.value(), y.value());
      return Optional.of(new Outcome.Bound(x.side(), weaker, Math.min(x.n(), y.n())));
    }
    return Optional.empty();
  }

  private static Outcome.Uncertainty larger(
      Outcome.Uncertainty p, Outcome.Uncertainty q, double value) {
    Outcome.Uncertainty u = p.expanded() >= q.expanded() ? p : q;
    return new Outcome.Uncertainty(
        u.standard(),
        u.expanded(),
        value - u.expanded(),
        value + u.expanded(),
        u.coverage(),
        u.coverageFactor(),
        u.degreesOfFreedom());
  }
}
