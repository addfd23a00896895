// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.judging;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.response.Box;
import millrace.analysis.response.Condition;
import millrace.analysis.response.Prediction;
import millrace.analysis.response.RangeResponse;
import millrace.analysis.response.UnitResponse;
import millrace.analysis.response.WorstOfBox;
import millrace.analysis.uncertainty.Results;
import millrace.datasheet.Datasheet;
import millrace.evidence.At;
import millrace.evidence.AtKey;
import millrace.evidence.Covers;
import millrace.evidence.Limit;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.evidence.Span;

/**
 * A limit on the current or its error, judged at the worst condition of its whole box by the unit's
 * model (methods.md 7.1, 11).
 */
final class CurrentLimit {
  private static final double PPM = 1e6;

  private final Promise promise;
  private final Datasheet sheet;
  private final Optional<UnitResponse> unit;
  private final KnownConditions known;

  CurrentLimit(
      Promise promise, Datasheet sheet, Optional<UnitResponse> unit, KnownConditions known) {
    this.promise = promise;
    this.sheet = sheet;
    this.unit = unit;
    this.known = known;
  }

  Result judged() {
    String name = promise.range().name();
    Optional<RangeResponse> response = unit.flatMap(u -> u.range(name));
    boolean unknown = known.temperatureDegC().isEmpty();
    if (response.isEmpty() || unknown) {
      String why =
          unknown
              ? Temperatures.UNKNOWN
              : unit.flatMap(u -> u.whyNot(name))
                  .orElse("range " + name + " was not measured: measure it");
      return Unjudged.missing(promise, sheet, List.of(why), 0);
    }
    return judged(response.get());
  }

  /**
   * What fails where it is known fails, whatever the rest would show; what is wanting never passes.
   */
  private Result judged(RangeResponse response) {
    WorstOfBox worst = WorstOfBox.of(response, limitPpm(), box(promise.temperatureDegC(), volts()));
    return Optional.of(worst)
        .filter(w -> w.prediction().isPresent())
        .map(w -> result(response, w, w.wanting()).judged(promise, sheet))
        .filter(r -> worst.wanting().isEmpty() || r.judgement().orElseThrow().failed())
        .orElseGet(() -> Unjudged.missing(promise, sheet, worst.wanting(), 0));
  }

  /** Voltages in the direction of the current; a limit that names none does not get here. */
  private Span volts() {
    return promise.box().terminalVoltageV().orElseGet(() -> new Span(0, 0));
  }

  private Box box(Span degC, Span volts) {
    return new Box(span(degC), span(volts), promise.box().supplyV().map(CurrentLimit::span));
  }

  private static Box.Span span(Span span) {
    return new Box.Span(span.lower(), span.upper());
  }

  private Limit limitPpm() {
    Limit limit = promise.limit();
    return promise.stated().quantity() == ResultQuantity.CURRENT_ERROR
        ? limit
        : inPpm(limit, promise.range().nominalA());
  }

  private static Limit inPpm(Limit amperes, double nominalA) {
    OptionalDouble a = ppm(amperes.lower(), nominalA);
    OptionalDouble b = ppm(amperes.upper(), nominalA);
    return nominalA > 0 ? new Limit(a, b) : new Limit(b, a);
  }

  private static OptionalDouble ppm(OptionalDouble amperes, double nominalA) {
    return amperes.isPresent()
        ? OptionalDouble.of((amperes.getAsDouble() / nominalA - 1) * PPM)
        : amperes;
  }

  private Candidate result(RangeResponse response, WorstOfBox worst, List<String> wanting) {
    Condition where = worst.condition().orElseThrow();
    Prediction.Value found = worst.prediction().orElseThrow();
    boolean error = promise.stated().quantity() == ResultQuantity.CURRENT_ERROR;
    At at =
        At.of(AtKey.TERMINAL_VOLTAGE_V, rounded(found.voltageV(), 1e4))
            .with(AtKey.TEMPERATURE_DEGC, rounded(where.temperatureDegC(), 1e2));
    if (where.supplyV().isPresent()) {
      at = at.with(AtKey.SUPPLY_V, where.supplyV().getAsDouble());
    }
    Covers covers = Bases.of(found).wanting(wanting);
    List<String> notes = new ArrayList<>(List.of(Bases.note(found)));
    Result result =
        Results.value(
                new Results.Subject(
                    promise.stated().quantity(),
                    Optional.of(promise.range().name()),
                    at,
                    error ? Optional.of("I_N") : Optional.empty(),
                    "the unit's model at the worst condition of the limit, Methods of Millrace 7.1",
                    sheet.coverage()),
                error ? found.errorPpm() : found.currentA(),
                1,
                notes)
            .by(error ? response.errorModel(where) : response.model(where));
    return new Candidate(result, covers, OptionalDouble.of(where.temperatureDegC()));
  }

  private static double rounded(double value, double scale) {
    return Math.round(value * scale) / scale;
  }
}
