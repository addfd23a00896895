// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import millrace.analysis.design.DesignCircuit;
import millrace.analysis.design.RangeCircuitModel;
import millrace.analysis.design.RangeDesign;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.time.Seeds;

/**
 * One built unit with true values drawn from its tolerances, one fault put into it, and a bench
 * that measures it with errors of its own. Its formulas are written anew, not taken from the model
 * that is tested.
 */
final class BuiltUnit {
  /** Standard uncertainties of the bench. */
  record Bench(double gainRatio, double pointRatio, double zeroA) {
    static final Bench GOOD = new Bench(15e-6, 2e-6, 1e-12);
  }

  /** A fault: what, of which part, how large in natural units (ratio, V, A, S, 1/K, V/K). */
  record Fault(ErrorCause kind, String of, double size) {}

  private final DesignCircuit circuit;
  private final Fault fault;
  private final Bench bench;
  private final SplittableRandom random;
  private final Map<String, Double> drawn = new HashMap<>();

  BuiltUnit(DesignCircuit circuit, Fault fault, Bench bench, long seed) {
    this.circuit = circuit;
    this.fault = fault;
    this.bench = bench;
    this.random = new Seeds(seed).stream("built unit");
  }

  private double within(String key, double halfWidth) {
    return drawn.computeIfAbsent(key, k -> halfWidth * (2 * random.nextDouble() - 1));
  }

  private double of(ErrorCause kind, String part, double halfWidth) {
    boolean struck = fault.kind() == kind && fault.of().equals(part);
    double normal = within(kind + part, halfWidth);
    return struck ? fault.size() : normal;
  }

  double currentA(RangeDesign r, double v, double degC) {
    double dT = degC - circuit.referenceDegC();
    double ref =
        of(ErrorCause.REFERENCE, r.reference().name(), r.reference().tolerance())
            + dT
                * of(ErrorCause.REFERENCE_TEMPCO, r.reference().name(), r.reference().tempcoPerK());
    double held = r.setVoltageV() * (1 + ref);
    double added = 0;
    if (r.amplifier().isPresent()) {
      var a = r.amplifier().get();
      held += of(ErrorCause.OFFSET, a.name(), a.offsetV());
      held += dT * of(ErrorCause.DRIFT, a.name(), a.driftVPerK());
      held -= (v + r.setVoltageV()) / a.gain() * (1 + within("gain", 0.5));
      added = of(ErrorCause.BIAS, a.name(), a.biasA());
    }
    double loss = 0;
    if (r.passDevice().isPresent() && r.passDevice().get().beta().isPresent()) {
      double beta = r.passDevice().get().beta().get() * (1 + within("beta", 0.05));
      loss = 1 / (beta + 1);
      if (fault.kind() == ErrorCause.BASE_LOSS) {
        loss = fault.size();
      }
      // beta rises with temperature and with the voltage across the device, V_A 50 to 150 V
      double earlyV = 100 + within("early", 50);
      double acrossV = r.supply().map(s -> s.voltageV()).orElse(15.0) - r.setVoltageV() - 0.6 - v;
      loss *=
          (earlyV + 5) / (earlyV + acrossV) * Math.exp(-dT * (6e-3 + within("beta per K", 2e-3)));
    }
    double leak = 0;
    if (r.leakage().isPresent()) {
      var l = r.leakage().get();
      double g = 1 / l.resistanceOhm() * (1 + within("leak", 0.5));
      g = fault.kind() == ErrorCause.LEAKAGE ? fault.size() : g;
      leak = v * g * Math.pow(2, dT / l.doublesEveryK());
    }
    return held / ohm(r, dT) * (1 - loss) + added - leak;
  }

  private double ohm(RangeDesign r, double dT) {
    var resistor = r.resistor();
    double tolerance = resistor.tolerance();
    double tempco = resistor.tempcoPerK();
    double ratio = 0;
    if (resistor.network().isPresent()) {
      var n = resistor.network().get();
      double own = n.trackingTolerance() / 2;
      double ownTempco = n.trackingTempcoPerK() / 2;
      ratio +=
          of(ErrorCause.NETWORK, n.name(), tolerance - own)
              + dT * of(ErrorCause.NETWORK_TEMPCO, n.name(), tempco - ownTempco);
      tolerance = own;
      tempco = ownTempco;
    }
    ratio +=
        of(ErrorCause.RESISTOR, resistor.name(), tolerance)
            + dT * of(ErrorCause.RESISTOR_TEMPCO, resistor.name(), tempco);
    return resistor.valueOhm() * (1 + ratio);
  }

  double complianceV(RangeDesign r) {
    double drops =
        r.series().stream().mapToDouble(d -> d.voltageV() * (1 + within(d.name(), 0.05))).sum();
    double lost = fault.kind() == ErrorCause.KNEE ? fault.size() : 0;
    double supply = r.supply().orElseThrow().voltageV() * (1 + within("supply", 0.005));
    double ref = of(ErrorCause.REFERENCE, r.reference().name(), r.reference().tolerance());
    return supply - r.setVoltageV() * (1 + ref) - drops - within("pass", 0.55) - 0.6 - lost;
  }

  /** Every range at every voltage and temperature, and the compliance voltages. */
  List<CauseObservation> measured(double[] volts, double[] degC) {
    List<CauseObservation> all = new ArrayList<>();
    for (RangeCircuitModel range : circuit.ranges()) {
      RangeDesign r = range.design();
      double gain = bench.gainRatio() * random.nextGaussian();
      double fromMeter = fault.kind() == ErrorCause.METER ? fault.size() : 0;
      for (double t : degC) {
        double zero = bench.zeroA() * random.nextGaussian();
        for (double v : volts) {
          double i = currentA(r, v, t);
          double point = bench.pointRatio() * random.nextGaussian();
          double shown = i * (1 + gain + point) * (1 + fromMeter) + zero;
          all.add(
              new CauseObservation.OfCurrent(
                  r.name(), v, t, estimate(r, shown, v, t), "DMM", Optional.empty()));
        }
      }
      if (r.supply().isPresent()) {
        double v = complianceV(r) + 0.02 * random.nextGaussian();
        ErrorSource u =
            ErrorSource.normal("crossing", ErrorSource.POINT, "knee " + r.name(), 0.02, "V");
        all.add(new CauseObservation.OfCompliance(r.name(), Estimate.exact(v).with(u, 1)));
      }
    }
    return all;
  }

  private Estimate estimate(RangeDesign r, double i, double v, double t) {
    String range = r.name();
    return Estimate.exact(i)
        .with(
            ErrorSource.normal(
                "meter gain", ErrorSource.INSTRUMENT_AND_RANGE, range, bench.gainRatio(), "1"),
            i)
        .with(ErrorSource.normal("zero", ErrorSource.ZERO, range + t, bench.zeroA(), "A"), 1)
        .with(
            ErrorSource.normal(
                "noise", ErrorSource.POINT, range + " " + v + " " + t, bench.pointRatio(), "1"),
            i);
  }
}
