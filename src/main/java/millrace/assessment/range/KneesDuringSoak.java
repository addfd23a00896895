// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.range;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.DoubleUnaryOperator;
import java.util.stream.Collectors;
import millrace.analysis.load.LoadCurve;
import millrace.analysis.load.LoadPoint;
import millrace.analysis.load.LoadSweepRequest;
import millrace.analysis.regression.LinearFit;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.reduction.ReducedPoint;

/**
 * Knee searches made during the soak. Their currents are in error by the remaining temperature
 * difference, and a leakage by its growth with temperature, both far less than the fall at a knee.
 * The search's own points on the plateau give the correction factor, linear in the voltage, and its
 * uncertainty.
 */
public final class KneesDuringSoak {
  /** Share of the specified compliance voltage up to which the current still holds. */
  private static final double PLATEAU_SHARE = 0.75;

  /** Without a specified voltage: the first loads of a search are on the plateau. */
  private static final int FIRST = 3;

  /** Growth of the factor's uncertainty from the plateau to the knee. */
  private static final double EXTRAPOLATED = 3;

  /**
   * The line of the sweep alone may include a load at which the current already falls; the points
   * of the search show that this load is beyond the plateau.
   */
  private static final int PASSES = 2;

  /** Two junctions of 2 mV/K; common practice, no source. */
  private static final double V_PER_K = 4e-3;

  private KneesDuringSoak() {}

  /**
   * A sweep combined with the points of a search, aligned to its line.
   *
   * @param sweep the points at a settled temperature
   * @param knees the points of the search in the same stay
   */
  public static List<LoadPoint> beside(
      List<LoadPoint> sweep, List<ReducedPoint> knees, LoadSweepRequest question) {
    return beside(sweep, knees, question, RangeLoadCurves.fresh());
  }

  /** The same, with the decisions on the sweep kept. */
  static List<LoadPoint> beside(
      List<LoadPoint> sweep,
      List<ReducedPoint> knees,
      LoadSweepRequest question,
      RangeLoadCurves curves) {
    List<ReducedPoint> plateau = plateau(knees, question);
    if (plateau.size() < FIRST) {
      return sweep;
    }
    Optional<DoubleUnaryOperator> decided = curves.lineAgain(sweep, knees.size(), PASSES - 1);
    if (decided.isPresent()) {
      return laidBeside(sweep, decided.get(), plateau, knees, question);
    }
    List<LoadPoint> all = sweep;
    for (int pass = 0; pass < PASSES; pass++) {
      Optional<LoadCurve> curve = curves.of(all, question, pass);
      if (curve.isEmpty()) {
        return sweep;
      }
      all = laidBeside(sweep, curve.get()::lineAtA, plateau, knees, question);
    }
    return all;
  }

  private static List<LoadPoint> laidBeside(
      List<LoadPoint> sweep,
      DoubleUnaryOperator lineA,
      List<ReducedPoint> plateau,
      List<ReducedPoint> knees,
      LoadSweepRequest question) {
    List<LoadPoint> all = new ArrayList<>(sweep);
    all.addAll(laidOver(lineA, plateau, knees, question));
    return all;
  }

  private static List<LoadPoint> laidOver(
      DoubleUnaryOperator lineA,
      List<ReducedPoint> plateau,
      List<ReducedPoint> knees,
      LoadSweepRequest question) {
    double[] volts = new double[plateau.size()];
    double[] factors = new double[volts.length];
    for (int i = 0; i < volts.length; i++) {
      ReducedPoint k = plateau.get(i);
      volts[i] = k.voltageV().value();
      factors[i] = k.currentA().value() / lineA.applyAsDouble(volts[i]);
    }
    double[] ones = new double[volts.length];
    Arrays.fill(ones, 1);
    LinearFit fit = LinearFit.of(new double[][] {ones, volts}, factors, ones);
    double off = 0;
    for (double residual : fit.residuals()) {
      off = Math.max(off, Math.abs(residual));
    }
    List<LoadPoint> laid = new ArrayList<>(knees.size());
    for (ReducedPoint k : knees) {
      double factor = fit.coefficient(0) + fit.coefficient(1) * k.voltageV().value();
      laid.add(moved(laid(k, factor, EXTRAPOLATED * off), k, question));
    }
    return laid;
  }

  /**
   * Of several searches the one nearest to the temperature, since the others only add error; all of
   * them if a temperature is not known.
   */
  static List<ReducedPoint> nearest(List<ReducedPoint> knees, LoadSweepRequest question) {
    boolean known = knees.stream().allMatch(k -> k.temperatureDegC().isPresent());
    if (!known || question.temperatureDegC().isEmpty()) {
      return knees;
    }
    Map<Integer, Double> apartK =
        knees.stream()
            .collect(
                Collectors.groupingBy(
                    ReducedPoint::stay,
                    TreeMap::new,
                    Collectors.averagingDouble(k -> apartK(k, question))));
    return apartK.entrySet().stream()
        .min(Map.Entry.comparingByValue())
        .map(best -> knees.stream().filter(k -> k.stay() == best.getKey()).toList())
        .orElse(knees);
  }

  private static double apartK(ReducedPoint knee, LoadSweepRequest question) {
    return Math.abs(
        knee.temperatureDegC().orElseThrow().value() - question.temperatureDegC().getAsDouble());
  }

  private static List<ReducedPoint> plateau(List<ReducedPoint> knees, LoadSweepRequest question) {
    if (question.complianceV().isEmpty()) {
      return knees.subList(0, Math.min(FIRST, knees.size()));
    }
    double most = PLATEAU_SHARE * question.complianceV().getAsDouble();
    List<ReducedPoint> plateau = new ArrayList<>(knees.size());
    for (ReducedPoint k : knees) {
      if (Math.abs(k.voltageV().value()) <= most) {
        plateau.add(k);
      }
    }
    return plateau;
  }

  /** The knee itself moves with temperature, as the junctions in series with the output do. */
  private static LoadPoint moved(LoadPoint p, ReducedPoint knee, LoadSweepRequest question) {
    boolean known = knee.temperatureDegC().isPresent() && question.temperatureDegC().isPresent();
    if (!known || p.voltageV().isDrawn()) {
      return p;
    }
    ErrorSource other =
        ErrorSource.within(
            "knee found at another temperature",
            ErrorSource.TEMPERATURE_STEP,
            knee.range() + " stay " + knee.stay(),
            V_PER_K * apartK(knee, question),
            "V");
    return new LoadPoint(
        p.key(),
        p.voltageV().with(other, 1),
        p.currentA(),
        p.loadOhm(),
        p.timeS(),
        p.unsteady(),
        p.kneeOnly());
  }

  private static LoadPoint laid(ReducedPoint knee, double factor, double halfRatio) {
    LoadPoint p = knee.loadPoint();
    double half = halfRatio * Math.abs(p.currentA().value());
    Estimate current =
        p.currentA()
            .times(1 / factor)
            .with(
                ErrorSource.within(
                    "change during the search", ErrorSource.POINT, p.key(), half, "A"),
                1);
    return new LoadPoint(
        p.key(), p.voltageV(), current, p.loadOhm(), p.timeS(), p.unsteady(), p.kneeOnly());
  }
}
