// SPDX-License-Identifier: Apache-2.0
package millrace.run.plausibility;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.bench.BenchFile;
import millrace.bench.BenchFile.VoltmeterPlace;
import millrace.bench.LoadProperties;
import millrace.bench.RoleFacts;
import millrace.bench.role.RoleName;
import millrace.calibration.AccuracyStatement;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Reading;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/**
 * Compares voltage over current with the setting of the load, within three standard uncertainties
 * (JCGM 100:2008, 5.1.2, first order; accuracy statements as in methods.md 2.2): what catches a
 * stuck relay of the load, a forgotten input resistance and a wrong meter range.
 */
public final class LoadResistanceCheck {
  private static final double TIMES_U = 3;

  /** The largest thermoelectric voltage of the wiring, V. */
  private static final double THERMAL_EMF_V = 2e-6;

  private final BenchFile bench;
  private final double settingOhm;
  private final Mean current;
  private final Mean voltage;

  private LoadResistanceCheck(BenchFile bench, double settingOhm, Mean current, Mean voltage) {
    this.bench = bench;
    this.settingOhm = settingOhm;
    this.current = current;
    this.voltage = voltage;
  }

  /**
   * The mean reading of a meter.
   *
   * @param value A or V
   * @param standardError of the mean, A or V
   * @param fullScale of the meter's range, A or V
   */
  public record Mean(double value, double standardError, double fullScale) {
    /**
     * The mean of those readings that are numbers; empty if there are none or the range is not
     * known.
     */
    static Optional<Mean> of(
        List<Reading> readings, MeasuredSignal signal, OptionalDouble fullScale) {
      double[] x = Reading.corrected(readings, signal).toArray();
      return fullScale.isEmpty() ? Optional.empty() : of(x, fullScale.getAsDouble());
    }

    /**
     * The mean of what one meter showed.
     *
     * @param x readings, in the unit of the meter
     * @param fullScale of the range that it was in, in the same unit
     * @return empty without readings
     */
    public static Optional<Mean> of(double[] x, double fullScale) {
      if (x.length == 0) {
        return Optional.empty();
      }
      double mean = Arrays.stream(x).sum() / x.length;
      double squares = Arrays.stream(x).map(v -> (v - mean) * (v - mean)).sum();
      double error = x.length > 1 ? Math.sqrt(squares / (x.length - 1) / x.length) : 0;
      return Optional.of(new Mean(mean, error, fullScale));
    }
  }

  /**
   * Looks for a difference.
   *
   * @param bench the bench file
   * @param settingOhm what the load is set to, ohm
   * @param current what flows
   * @param voltage what the voltmeter shows
   * @return what is wrong; empty if nothing is, or if the bench file does not say enough to judge
   */
  public static Optional<String> trouble(
      BenchFile bench, double settingOhm, Mean current, Mean voltage) {
    return new LoadResistanceCheck(bench, settingOhm, current, voltage).judged();
  }

  /**
   * What is found and what is expected, in one sentence.
   *
   * @param ohm found
   * @param expectedOhm expected
   * @param uncertaintyOhm standard uncertainty of the difference
   */
  private record Judged(double ohm, double expectedOhm, double uncertaintyOhm) {
    boolean apart() {
      return Math.abs(ohm - expectedOhm) > TIMES_U * uncertaintyOhm;
    }
  }

  private Optional<String> judged() {
    Optional<AccuracyStatement> ofCurrent = accuracy(RoleName.CURRENT_METER, current.fullScale());
    Optional<AccuracyStatement> ofVoltage = accuracy(RoleName.VOLTMETER, voltage.fullScale());
    Optional<double[]> load = load();
    if (ofCurrent.isEmpty() || ofVoltage.isEmpty() || load.isEmpty() || current.value() == 0) {
      return Optional.empty();
    }
    Judged judged = judge(ofCurrent.get(), ofVoltage.get(), load.get());
    return judged.apart()
        ? Optional.of(text(judged) + bench(judged, ofCurrent.get(), ofVoltage.get(), load.get()[0]))
        : Optional.empty();
  }

  private Judged judge(AccuracyStatement ofCurrent, AccuracyStatement ofVoltage, double[] load) {
    double ohm = voltage.value() / current.value();
    double amps = Math.abs(current.value());
    double uCurrent = Math.hypot(u(ofCurrent, current), current.standardError());
    double uVoltage =
        Math.hypot(Math.hypot(u(ofVoltage, voltage), voltage.standardError()), THERMAL_EMF_V);
    double leads = bench.wiring().leadsOhm();
    double u = Math.hypot(uVoltage / amps, Math.abs(ohm) * uCurrent / amps);
    u = Math.hypot(u, Math.hypot(load[1], leads / Math.sqrt(3)));
    double expected = load[0];
    boolean upstream = bench.wiring().voltmeter().equals(Optional.of(VoltmeterPlace.UPSTREAM));
    if (upstream) {
      expected += ofCurrent.burdenOhm() + leads;
      u = Math.hypot(u, ofCurrent.burdenOhm() * ofCurrent.burdenUncertainty());
    } else if (ofVoltage.inputOhm().isPresent()) {
      double input = ofVoltage.inputOhm().get();
      double beside = expected * input / (expected + input);
      u = Math.hypot(u, beside * beside / input * ofVoltage.inputUncertainty());
      expected = beside;
    }
    return new Judged(ohm, expected, u);
  }

  /** Whether the bench file says other than what is wired: one more sentence, or none. */
  private String bench(
      Judged judged, AccuracyStatement ofCurrent, AccuracyStatement ofVoltage, double loadOhm) {
    double inLoop = ofCurrent.burdenOhm() + bench.wiring().leadsOhm();
    double within = TIMES_U * judged.uncertaintyOhm();
    boolean upstream = bench.wiring().voltmeter().equals(Optional.of(VoltmeterPlace.UPSTREAM));
    double elsewhere = upstream ? loadOhm : loadOhm + inLoop;
    if (inLoop > within && Math.abs(judged.ohm() - elsewhere) <= within) {
      return (upstream
              ? " What is missing is the current meter's burden and the leads, %s: the voltmeter"
                  + " seems to sit across the load, and the bench file says upstream."
              : " What is too much is the current meter's burden and the leads, %s: the voltmeter"
                  + " seems to sit upstream, and the bench file says across the load.")
          .formatted(QuantityText.print(inLoop, Dimension.RESISTANCE, 4));
    }
    double beside = 1 / (1 / judged.ohm() - 1 / loadOhm);
    return !upstream && usual(beside, within * beside / loadOhm * beside / loadOhm)
        ? " A voltmeter input of %s beside the load would give it; the bench file says %s."
            .formatted(
                QuantityText.print(beside, Dimension.RESISTANCE, 3),
                ofVoltage
                    .inputOhm()
                    .map(r -> QuantityText.print(r, Dimension.RESISTANCE, 3))
                    .orElse("nothing of it"))
        : "";
  }

  /** Voltmeters have an input of 1 or 10 Mohm where it is not far higher (common practice). */
  private static boolean usual(double ohm, double withinOhm) {
    return withinOhm < 0.3 * ohm
        && (Math.abs(ohm - 1e6) <= withinOhm + 0.02e6 || Math.abs(ohm - 10e6) <= withinOhm + 0.2e6);
  }

  private Optional<AccuracyStatement> accuracy(RoleName role, double fullScale) {
    return bench.facts(role).flatMap(f -> f.forRange(fullScale));
  }

  /** Value and standard uncertainty of the load; empty if nothing is stated. */
  private Optional<double[]> load() {
    Optional<RoleFacts> facts = bench.facts(RoleName.LOAD);
    if (facts.isEmpty()) {
      return Optional.empty();
    }
    LoadProperties box = facts.get().box();
    double residual = box.residualOhm();
    double shunted = box.shuntedOhm(settingOhm) / Math.sqrt(3);
    Optional<LoadProperties.Value> line = box.calibrated(settingOhm);
    if (line.isPresent()) {
      double u = Math.hypot(line.get().standardUncertaintyOhm(), shunted);
      return Optional.of(new double[] {line.get().valueOhm() + residual, u});
    }
    return facts.get().accuracy().stream()
        .findFirst()
        .map(a -> Math.hypot(limit(a, settingOhm, 0) / divisor(a), shunted))
        .map(u -> new double[] {settingOhm + residual, u});
  }

  private static double u(AccuracyStatement a, Mean mean) {
    return limit(a, mean.value(), mean.fullScale()) / divisor(a);
  }

  private static double limit(AccuracyStatement a, double value, double fullScale) {
    return a.ofReading() * Math.abs(value) + a.ofFullScale() * fullScale + a.absolute();
  }

  private static double divisor(AccuracyStatement a) {
    return a.coverageFactor().orElse(Math.sqrt(3));
  }

  private static String text(Judged judged) {
    return "voltage over current gives %s; expected %s within %s from the setting of the load. Look for a stuck relay or a lead on the wrong decade, then for a meter on the wrong range."
        .formatted(
            QuantityText.print(judged.ohm(), Dimension.RESISTANCE, 6),
            QuantityText.print(judged.expectedOhm(), Dimension.RESISTANCE, 6),
            QuantityText.print(TIMES_U * judged.uncertaintyOhm(), Dimension.RESISTANCE, 2));
  }
}
