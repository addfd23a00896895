// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.range;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.load.LoadCurve;
import millrace.analysis.load.LoadPoint;
import millrace.analysis.load.LoadSweepRequest;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.reduction.ReducedPoint;

/**
 * The loads of one range at one temperature.
 *
 * @param there the points used
 * @param question the question to the sweep
 * @param points the points of the sweep
 * @param curve their load curve; empty if they give no line
 */
record RangeLoadSweep(
    List<ReducedPoint> there,
    LoadSweepRequest question,
    List<LoadPoint> points,
    Optional<LoadCurve> curve) {

  static RangeLoadSweep of(
      List<ReducedPoint> there,
      List<ReducedPoint> knees,
      LoadSweepRequest question,
      RangeLoadCurves curves) {
    List<LoadPoint> points = MergedTemperatureStays.aligned(there, knees, question, curves);
    return new RangeLoadSweep(there, question, points, curves.of(points, question));
  }

  /** Its temperature, degC; empty if a point has none. */
  Optional<Estimate> temperature() {
    List<Estimate> degC = new ArrayList<>(there.size());
    for (ReducedPoint p : there) {
      if (p.temperatureDegC().isEmpty()) {
        return Optional.empty();
      }
      degC.add(p.temperatureDegC().get());
    }
    return Optional.of(Estimate.mean(degC));
  }

  /**
   * The question with the uncertainty by temperature: a leakage doubles within kelvins, so the
   * uncertainty of the temperature adds to that of the conductance.
   *
   * @param all the sweeps of the range, this one among them
   * @param anchorDegC temperature that the conductance is stated at
   */
  LoadSweepRequest asked(List<RangeLoadSweep> all, double anchorDegC) {
    Optional<Estimate> degC = temperature();
    return degC.isEmpty()
        ? question
        : question.withFixture(
            question.fixtureS().plus(degC.get().plus(-anchorDegC).times(perK(all))));
  }

  /** Slope of the conductance over temperature, S/K, from the neighbouring sweeps. */
  private double perK(List<RangeLoadSweep> all) {
    OptionalDouble here = question.temperatureDegC();
    if (here.isEmpty() || curve.isEmpty()) {
      return 0;
    }
    double below = perK(all, here.getAsDouble(), -1);
    double above = perK(all, here.getAsDouble(), 1);
    return Math.abs(below) > Math.abs(above) ? below : above;
  }

  private double perK(List<RangeLoadSweep> all, double degC, int side) {
    return all.stream()
        .filter(s -> s.curve.isPresent() && s.question.temperatureDegC().isPresent())
        .filter(s -> side * (s.question.temperatureDegC().getAsDouble() - degC) > 0)
        .min(
            Comparator.comparingDouble(
                s -> side * (s.question.temperatureDegC().getAsDouble() - degC)))
        .map(s -> slope(s, s.question.temperatureDegC().getAsDouble() - degC))
        .orElse(0.0);
  }

  /** An exponential through both, as for a leakage; a line if one is not positive. */
  private double slope(RangeLoadSweep other, double apartK) {
    double here = curve.orElseThrow().conductanceS().value();
    double there = other.curve.orElseThrow().conductanceS().value();
    double line = (there - here) / apartK;
    boolean both = here > 0 && there > 0;
    double exponential = both ? here * Math.log(there / here) / apartK : line;
    return Math.abs(exponential) > Math.abs(line) ? exponential : line;
  }
}
