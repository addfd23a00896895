// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.analysis.causes.BuiltUnit.Bench;
import millrace.analysis.causes.BuiltUnit.Fault;
import millrace.analysis.design.DesignCircuit;
import millrace.analysis.design.DesignDeviation;
import millrace.analysis.design.Designs;
import millrace.time.Seeds;

/** A campaign over units of several designs. */
final class Trial {
  static final Fault NONE = new Fault(ErrorCause.REFERENCE, "(nothing)", 0);

  /** A design and how it is measured. */
  record Setting(String name, DesignCircuit circuit, double[] volts, double[] degC) {}

  static List<Setting> settings() {
    double[] volts = {0.05, 2, 4, 6};
    double[] night = {10, 23, 40};
    double[] ambient = {23};
    return List.of(
        new Setting("gate, apart", Designs.decades(5, Designs.GATE, false), volts, night),
        new Setting("gate, network", Designs.decades(5, Designs.GATE, true), volts, night),
        new Setting("bipolar, apart", Designs.decades(4, Designs.BIPOLAR, false), volts, night),
        new Setting(
            "gate, one temperature", Designs.decades(4, Designs.GATE, false), volts, ambient),
        new Setting("two ranges", Designs.decades(2, Designs.GATE, false), volts, night));
  }

  private Trial() {}

  static ErrorCauseDiagnosis diagnose(Setting setting, Fault fault, long seed) {
    BuiltUnit unit = new BuiltUnit(setting.circuit(), fault, Bench.GOOD, seed);
    return CauseDiagnoser.of(
        setting.circuit(), unit.measured(setting.volts(), setting.degC()), 0.9545, false);
  }

  /** The faults that a design can have, each as large as its tolerance. */
  static List<Fault> faults(Setting setting) {
    boolean night = setting.degC().length > 1;
    List<Fault> faults = new ArrayList<>();
    for (DesignDeviation d : setting.circuit().deviations()) {
      kind(d.kind())
          .filter(k -> night || !k.ofTemperature())
          .ifPresent(k -> faults.add(new Fault(k, d.of(), d.halfWidth())));
    }
    faults.add(new Fault(ErrorCause.METER, "DMM", 30e-6));
    faults.add(new Fault(ErrorCause.KNEE, "S1", 0.75));
    return faults;
  }

  private static Optional<ErrorCause> kind(DesignDeviation.Kind kind) {
    return switch (kind) {
      case REFERENCE -> Optional.of(ErrorCause.REFERENCE);
      case REFERENCE_TEMPCO -> Optional.of(ErrorCause.REFERENCE_TEMPCO);
      case NETWORK -> Optional.of(ErrorCause.NETWORK);
      case NETWORK_TEMPCO -> Optional.of(ErrorCause.NETWORK_TEMPCO);
      case RESISTOR -> Optional.of(ErrorCause.RESISTOR);
      case RESISTOR_TEMPCO -> Optional.of(ErrorCause.RESISTOR_TEMPCO);
      case OFFSET -> Optional.of(ErrorCause.OFFSET);
      case DRIFT -> Optional.of(ErrorCause.DRIFT);
      case BIAS -> Optional.of(ErrorCause.BIAS);
      case BASE_LOSS -> Optional.of(ErrorCause.BASE_LOSS);
      case LEAKAGE -> Optional.of(ErrorCause.LEAKAGE);
      default -> Optional.empty();
    };
  }

  private static final Map<String, Double> UNCERTAINTIES = new HashMap<>();

  /** A fault of at least five times its tolerance and five times u of its size. */
  static Fault large(Setting setting, Fault unit, long seed) {
    double u =
        UNCERTAINTIES.computeIfAbsent(
            setting.name() + unit.kind() + unit.of(), k -> uncertainty(setting, unit));
    var random = new Seeds(seed).stream("fault");
    double times = 5 * (1 + 2 * random.nextDouble());
    double size = times * Math.max(unit.size(), u);
    boolean oneSided =
        unit.kind() == ErrorCause.LEAKAGE
            || unit.kind() == ErrorCause.BASE_LOSS
            || unit.kind() == ErrorCause.KNEE;
    double nominal = nominal(setting, unit);
    double sign = oneSided || random.nextBoolean() ? 1 : -1;
    return new Fault(unit.kind(), unit.of(), nominal + sign * size);
  }

  private static double nominal(Setting setting, Fault fault) {
    return switch (fault.kind()) {
      case LEAKAGE -> 1 / Designs.L1.resistanceOhm();
      case BASE_LOSS -> Designs.BIPOLAR.loss();
      default -> 0;
    };
  }

  /** u in natural units, from a unit whose fault is large enough to be found. */
  private static double uncertainty(Setting setting, Fault unit) {
    double u = Math.max(unit.size(), least(unit.kind()));
    for (int i = 0; i < 2; i++) {
      double size = nominal(setting, unit) + 10 * Math.max(unit.size(), u);
      u = uncertainty(setting, new Fault(unit.kind(), unit.of(), size), 3 * u);
    }
    return u;
  }

  private static double uncertainty(Setting setting, Fault fault, double elseU) {
    return diagnose(setting, fault, 1).causes().stream()
        .filter(c -> c.name().equals(fault.kind().text() + " " + fault.of()))
        .findFirst()
        .flatMap(Cause::size)
        .map(s -> s.standardUncertainty() / slope(fault.kind(), s.value()))
        .orElse(elseU);
  }

  private static double least(ErrorCause kind) {
    return switch (kind) {
      case OFFSET -> 1e-3;
      case DRIFT -> 3e-6;
      case BIAS -> 1e-9;
      default -> 0;
    };
  }

  private static double slope(ErrorCause kind, double size) {
    return kind == ErrorCause.LEAKAGE ? size * size : kind.unit().startsWith("ppm") ? 1e6 : 1;
  }

  enum Verdict {
    FIRST,
    IN_SET,
    SET_WITHOUT_SEPARATION,
    WRONG
  }

  static Verdict verdict(ErrorCauseDiagnosis diagnosis, Fault fault) {
    String name = fault == NONE ? Cause.NOTHING : fault.kind().text() + " " + fault.of();
    Cause first = diagnosis.causes().get(0);
    if (first.name().equals(name)) {
      return first.notSeparableFrom().isEmpty() || first.separatedBy().isPresent()
          ? Verdict.FIRST
          : Verdict.SET_WITHOUT_SEPARATION;
    }
    if (first.notSeparableFrom().contains(name)) {
      return first.separatedBy().isPresent() ? Verdict.IN_SET : Verdict.SET_WITHOUT_SEPARATION;
    }
    return Verdict.WRONG;
  }
}
