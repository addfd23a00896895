// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.Optional;
import java.util.function.Predicate;
import millrace.analysis.design.DesignDeviation.Kind;
import millrace.analysis.design.DesignPart;
import millrace.analysis.design.RangeCircuitModel;
import millrace.analysis.design.RangeDesign;
import millrace.evidence.part.PartQuantity;

/**
 * What the model of a unit predicts of its parts (methods.md 9). Immutable.
 *
 * @param model of the unit
 */
record PartObservables(UnitDeviationModel model) {

  /**
   * A value of a part.
   *
   * @param quantity what of it
   * @param of its name
   * @param degC temperature of the unit, degC
   * @param terminalV voltage at the terminals, V
   * @return how the model predicts it; empty where the circuit has no such thing
   */
  Optional<PartObservable> of(PartQuantity quantity, String of, double degC, double terminalV) {
    double dT = degC - model.circuit().referenceDegC();
    return switch (quantity) {
      case VOLTAGE -> voltage(of, degC, dT);
      case RESISTANCE -> resistance(of, degC, dT);
      case INPUT_OFFSET -> offset(of, dT);
      case INPUT_CURRENT -> deviation(Kind.BIAS, of, 0);
      case BASE_SHARE ->
          range(r -> r.passDevice().filter(q -> q.name().equals(of)).isPresent())
              .flatMap(r -> deviation(Kind.BASE_LOSS, of, loss(r)));
      case CURRENT -> model.circuit().range(of).map(r -> current(r, degC, terminalV));
    };
  }

  private Optional<RangeCircuitModel> range(Predicate<RangeDesign> which) {
    return model.circuit().ranges().stream().filter(r -> which.test(r.design())).findFirst();
  }

  /** A range that one resistor makes: of a tapped string nobody measures the whole. */
  private Optional<RangeCircuitModel> alone(String resistor) {
    return range(r -> r.resistor().name().equals(resistor) && r.taps().isEmpty());
  }

  private static double loss(RangeCircuitModel range) {
    return range.design().passDevice().map(DesignPart.PassDevice::loss).orElse(0.0);
  }

  private Optional<PartObservable> deviation(Kind kind, String of, double nominal) {
    int i = model.circuit().indexOf(kind, of);
    return i < 0 ? Optional.empty() : Optional.of(PartObservable.ofValue(x -> nominal + x[i]));
  }

  private Optional<PartObservable> offset(String amplifier, double dT) {
    int offset = model.circuit().indexOf(Kind.OFFSET, amplifier);
    int drift = model.circuit().indexOf(Kind.DRIFT, amplifier);
    return offset < 0 || drift < 0
        ? Optional.empty()
        : Optional.of(PartObservable.ofValue(x -> x[offset] + x[drift] * dT));
  }

  /** With another meter and no voltmeter: their errors are not in it. */
  private PartObservable current(RangeCircuitModel range, double degC, double terminalV) {
    UnitModelOutput logarithm = model.current(range, terminalV, degC, "");
    return PartObservable.ofLogarithm(x -> Math.exp(logarithm.at(x)));
  }

  private Optional<PartObservable> voltage(String of, double degC, double dT) {
    return range(r -> r.reference().name().equals(of))
        .map(r -> reference(r.design(), of, dT))
        .or(() -> alone(of).map(r -> held(r, degC)))
        .or(() -> supply(of))
        .or(() -> drop(of));
  }

  private PartObservable reference(RangeDesign range, String of, double dT) {
    int value = model.circuit().indexOf(Kind.REFERENCE, of);
    int tempco = model.circuit().indexOf(Kind.REFERENCE_TEMPCO, of);
    int curvature = model.circuit().indexOf(Kind.REFERENCE_CURVATURE, of);
    double nominalV =
        range.firstStage().map(DesignPart.FirstStage::referenceV).orElse(range.setVoltageV());
    return PartObservable.ofLogarithm(
        x ->
            nominalV
                * (1 + x[value] + x[tempco] * dT + (curvature < 0 ? 0 : x[curvature] * dT * dT)));
  }

  private static PartObservable held(RangeCircuitModel range, double degC) {
    return PartObservable.ofLogarithm(x -> range.heldV(0, degC, x));
  }

  private Optional<PartObservable> supply(String of) {
    return range(r -> r.supply().filter(s -> s.name().equals(of)).isPresent())
        .flatMap(r -> r.design().supply())
        .flatMap(s -> deviation(Kind.SUPPLY, of, s.voltageV()));
  }

  private Optional<PartObservable> drop(String of) {
    return range(r -> r.series().stream().anyMatch(d -> d.name().equals(of)))
        .flatMap(r -> r.design().series().stream().filter(d -> d.name().equals(of)).findFirst())
        .flatMap(d -> deviation(Kind.SERIES_DROP, of, d.voltageV()));
  }

  private Optional<PartObservable> resistance(String of, double degC, double dT) {
    return alone(of)
        .map(r -> PartObservable.ofLogarithm(x -> r.resistanceOhm(degC, x)))
        .or(() -> leakage(of, dT));
  }

  private Optional<PartObservable> leakage(String of, double dT) {
    int i = model.circuit().indexOf(Kind.LEAKAGE, of);
    return range(r -> r.leakage().filter(l -> l.name().equals(of)).isPresent())
        .flatMap(r -> r.design().leakage())
        .filter(l -> i >= 0)
        .map(
            l ->
                PartObservable.ofReciprocal(
                    x -> (1 / l.resistanceOhm() + x[i]) * Math.pow(2, dT / l.doublesEveryK())));
  }
}
