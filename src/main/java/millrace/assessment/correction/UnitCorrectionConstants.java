// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.correction;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.load.LoadCurve;
import millrace.analysis.load.LoadPoint;
import millrace.analysis.temperature.TemperatureLine;
import millrace.analysis.temperature.TemperaturePoint;
import millrace.analysis.temperature.TemperatureStudy;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.CoverageFactors;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.Assessment;
import millrace.assessment.correction.UnitRangeCorrection.Box;
import millrace.assessment.correction.UnitRangeCorrection.Residual;
import millrace.assessment.range.LoadSweepStudy;
import millrace.assessment.range.RangeTemperatureStudy;
import millrace.datasheet.Datasheet;

/**
 * The constants of a unit, range by range.
 *
 * @param ranges one per range that has any
 * @param leftOut the reason that a range has none, by name of the range
 */
public record UnitCorrectionConstants(
    List<UnitRangeCorrection> ranges, Map<String, String> leftOut) {
  private static final double PPM = 1e6;
  private static final Residual UNKNOWN = new Residual(0, 0, 0, 0);

  /** Copies the collections. */
  public UnitCorrectionConstants {
    ranges = List.copyOf(ranges);
    leftOut = Collections.unmodifiableMap(new LinkedHashMap<>(leftOut));
  }

  /**
   * The constants that a run gives.
   *
   * @param assessment the assessment
   * @return the constants
   */
  public static UnitCorrectionConstants of(Assessment assessment) {
    List<UnitRangeCorrection> ranges = new ArrayList<>();
    Map<String, String> leftOut = new LinkedHashMap<>();
    for (RangeTemperatureStudy study : assessment.temperatures()) {
      Optional<Double> nominal = nominalA(assessment, study.range());
      if (nominal.isEmpty()) {
        leftOut.put(study.range(), "its nominal current is not known");
      } else if (study.study().referenceA().value() == 0) {
        leftOut.put(study.range(), "it gives no current");
      } else {
        ranges.add(correction(assessment, study, nominal.get()));
      }
    }
    return new UnitCorrectionConstants(ranges, leftOut);
  }

  private static Optional<Double> nominalA(Assessment assessment, String range) {
    Optional<Double> promised =
        assessment.basis().datasheet().flatMap(s -> s.range(range)).map(Datasheet.Range::nominalA);
    return promised.or(
        () ->
            assessment.loads().stream()
                .filter(l -> l.range().equals(range))
                .map(l -> l.curve().question().nominalA())
                .findFirst());
  }

  private static UnitRangeCorrection correction(
      Assessment assessment, RangeTemperatureStudy of, double nominalA) {
    TemperatureStudy study = of.study();
    List<LoadSweepStudy> loads =
        assessment.loads().stream().filter(l -> l.range().equals(of.range())).toList();
    Optional<LoadCurve> curve = nearest(loads, study.referenceDegC());
    Optional<TemperatureLine> line = study.quadratic().or(study::slope);
    Estimate above = line.map(TemperatureLine::interceptPpm).orElse(Estimate.exact(0));
    Estimate gain = study.referenceA().times(above.times(1 / PPM).plus(1)).times(1 / nominalA);
    Box box = box(study, curve);
    UnitRangeCorrection raw =
        new UnitRangeCorrection(
            of.range(),
            nominalA,
            gain,
            line.map(TemperatureLine::ppmPerK),
            study.quadratic().map(TemperatureLine::quadraticPpmPerK2),
            curve.map(LoadCurve::conductanceS),
            box,
            UNKNOWN,
            notes(line, curve));
    return raw.with(residual(raw, study, loads, assessment.basis().coverage()));
  }

  private static Optional<LoadCurve> nearest(List<LoadSweepStudy> loads, double referenceDegC) {
    return loads.stream()
        .min(
            Comparator.comparingDouble(
                l -> Math.abs(l.temperatureDegC().orElse(referenceDegC) - referenceDegC)))
        .map(LoadSweepStudy::curve);
  }

  private static Box box(TemperatureStudy study, Optional<LoadCurve> curve) {
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    for (TemperaturePoint p : study.points()) {
      low = Math.min(low, p.temperatureDegC().value());
      high = Math.max(high, p.temperatureDegC().value());
    }
    boolean polynomial = study.slope().isPresent();
    double reference = polynomial ? study.referenceDegC() : (low + high) / 2;
    return new Box(
        reference,
        low,
        high,
        curve.map(LoadCurve::referenceV).orElse(0.0),
        curve.map(UnitCorrectionConstants::highestV).orElse(0.0));
  }

  private static double highestV(LoadCurve curve) {
    return curve.plateau().stream()
        .map(LoadPoint::voltageV)
        .mapToDouble(v -> Math.abs(v.value()))
        .max()
        .orElse(0);
  }

  private static List<String> notes(Optional<TemperatureLine> line, Optional<LoadCurve> curve) {
    List<String> notes = new ArrayList<>();
    if (line.isEmpty()) {
      notes.add(UnitRangeCorrection.ONE_TEMPERATURE + ": the constants hold there alone");
    }
    if (curve.isEmpty()) {
      notes.add(UnitRangeCorrection.NO_SWEEP + ": the constants hold at one load alone");
    }
    notes.add("ageing after the run is not in the residual");
    return notes;
  }

  private static Residual residual(
      UnitRangeCorrection c, TemperatureStudy study, List<LoadSweepStudy> loads, double coverage) {
    Worst worst = new Worst(c, coverage);
    for (LoadSweepStudy load : loads) {
      double degC = load.temperatureDegC().orElse(c.box().referenceDegC());
      for (double volts : new double[] {c.box().referenceV(), c.box().highestV()}) {
        worst.at(degC, volts, load.curve().currentAtA(volts).value());
      }
    }
    for (TemperaturePoint p : study.points()) {
      worst.at(p.temperatureDegC().value(), c.box().referenceV(), p.currentA().value());
    }
    return new Residual(worst.misfit, worst.absolute, worst.same, worst.before);
  }

  /** The largest of misfit and U together, over the ends of every load line; in ppm of nominal. */
  private static final class Worst {
    private final UnitRangeCorrection correction;
    private final double coverage;
    private double misfit;
    private double absolute;
    private double same;
    private double before;

    Worst(UnitRangeCorrection correction, double coverage) {
      this.correction = correction;
      this.coverage = coverage;
    }

    void at(double degC, double volts, double measuredA) {
      Estimate corrected = correction.currentA(degC, volts);
      double nominalA = correction.nominalA();
      double ppm = PPM / Math.abs(nominalA);
      double off = Math.abs(measuredA - corrected.value()) * ppm;
      double u = Budget.of(corrected).uncertainty(coverage).expanded() * ppm;
      double k = CoverageFactors.factor(coverage, OptionalDouble.empty());
      misfit = Math.max(misfit, off);
      absolute = Math.max(absolute, off + u);
      same = Math.max(same, off + k * UnitRangeCorrection.own(corrected) * ppm);
      before = Math.max(before, Math.abs(measuredA - nominalA) * ppm);
    }
  }
}
