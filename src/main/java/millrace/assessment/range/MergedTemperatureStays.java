// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.range;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.load.LoadCurve;
import millrace.analysis.load.LoadPoint;
import millrace.analysis.load.LoadSweepRequest;
import millrace.assessment.reduction.ReducedPoint;
import millrace.assessment.reduction.TemperatureStays;

/**
 * Merges stays of one range at one temperature: their load sweeps are shifted to agree at the
 * reference, so that drift and hysteresis between visits do not count as scatter.
 */
final class MergedTemperatureStays {
  /** Measured temperatures within this distance count as equal, K. */
  static final double NEAR_K = 0.5;

  private MergedTemperatureStays() {}

  /** The points by temperature, in the order in which temperatures first occur. */
  static List<List<ReducedPoint>> of(List<ReducedPoint> points) {
    List<List<ReducedPoint>> classes = new ArrayList<>();
    List<OptionalDouble> temperatures = new ArrayList<>();
    for (List<ReducedPoint> there : TemperatureStays.byStay(points).values()) {
      OptionalDouble degC = setOrMeasured(there);
      int at = 0;
      while (at < classes.size() && !same(temperatures.get(at), degC)) {
        at++;
      }
      if (at == classes.size()) {
        classes.add(new ArrayList<>());
        temperatures.add(degC);
      }
      classes.get(at).addAll(there);
    }
    return classes;
  }

  private static OptionalDouble setOrMeasured(List<ReducedPoint> there) {
    OptionalDouble set = there.get(0).point().conditions().temperatureDegC();
    return set.isPresent() ? set : TemperatureStays.meanDegC(there);
  }

  private static boolean same(OptionalDouble a, OptionalDouble b) {
    if (a.isEmpty() || b.isEmpty()) {
      return a.isEmpty() == b.isEmpty();
    }
    return Math.abs(a.getAsDouble() - b.getAsDouble()) <= NEAR_K;
  }

  /**
   * The load points of one class, each stay shifted so that all agree at the reference.
   *
   * @param there the points of the class
   * @param knees points of any stay for the knee only
   * @param curves the decisions on sweeps
   */
  static List<LoadPoint> aligned(
      List<ReducedPoint> there,
      List<ReducedPoint> knees,
      LoadSweepRequest question,
      RangeLoadCurves curves) {
    if (ofOneStay(there)) {
      return ofStay(there, knees, question, curves);
    }
    Map<Integer, List<ReducedPoint>> stays = TemperatureStays.byStay(there);
    List<ReducedPoint> near =
        KneesDuringSoak.nearest(
            knees.stream().filter(k -> stays.containsKey(k.stay())).toList(), question);
    List<List<LoadPoint>> sweeps = new ArrayList<>();
    List<Double> references = new ArrayList<>();
    for (List<ReducedPoint> stay : stays.values()) {
      List<LoadPoint> sweep = ofStay(stay, near, question, curves);
      Optional<LoadCurve> curve = curves.of(sweep, question);
      if (curve.isEmpty()) {
        return loadPoints(there);
      }
      sweeps.add(sweep);
      references.add(curve.get().referenceCurrentA().value());
    }
    double mean = references.stream().mapToDouble(Double::doubleValue).average().orElse(0);
    List<LoadPoint> aligned = new ArrayList<>();
    for (int k = 0; k < sweeps.size(); k++) {
      double shift = mean - references.get(k);
      sweeps.get(k).forEach(p -> aligned.add(shifted(p, shift)));
    }
    return aligned;
  }

  private static boolean ofOneStay(List<ReducedPoint> there) {
    for (ReducedPoint p : there) {
      if (p.stay() != there.get(0).stay()) {
        return false;
      }
    }
    return true;
  }

  private static List<LoadPoint> ofStay(
      List<ReducedPoint> there,
      List<ReducedPoint> knees,
      LoadSweepRequest question,
      RangeLoadCurves curves) {
    int stay = there.get(0).stay();
    List<ReducedPoint> own = ofStay(knees, stay);
    return curves.ofStay(
        stay,
        own.size(),
        question,
        () -> KneesDuringSoak.beside(loadPoints(there), own, question, curves));
  }

  private static List<ReducedPoint> ofStay(List<ReducedPoint> knees, int stay) {
    List<ReducedPoint> own = new ArrayList<>();
    for (ReducedPoint k : knees) {
      if (k.stay() == stay) {
        own.add(k);
      }
    }
    return own;
  }

  /** The points as those of a load sweep. */
  static List<LoadPoint> loadPoints(List<ReducedPoint> points) {
    List<LoadPoint> all = new ArrayList<>(points.size());
    for (ReducedPoint p : points) {
      all.add(p.loadPoint());
    }
    return all;
  }

  private static LoadPoint shifted(LoadPoint p, double amperes) {
    return new LoadPoint(
        p.key(),
        p.voltageV(),
        p.currentA().plus(amperes),
        p.loadOhm(),
        p.timeS(),
        p.unsteady(),
        p.kneeOnly());
  }
}
