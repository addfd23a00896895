// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.function.Supplier;

/**
 * Holds predictions against the truth at conditions that no night has measured: 20 per unit, the
 * instruments' errors drawn anew for each.
 */
final class HeldOut {
  private static final int CONDITIONS = 20;

  private final List<Double> ratios = new ArrayList<>();
  private final List<Double> expanded = new ArrayList<>();
  private int units;
  private int inside;
  private int byAssumption;
  private int worstInside = CONDITIONS;
  private double worstRatio;
  private String worst = "";

  /** A condition that was not measured, drawn anew. */
  record Held(double degC, double volts) {}

  /** Takes one unit: a night's data, its truth, and where it is asked. */
  void add(String name, RangeMeasurements data, TrueCurve truth, Supplier<Held> conditions) {
    UnitResponse unit =
        UnitResponse.of(List.of(data), new ResponseSettings(23, Map.of(), Map.of()));
    RangeResponse response = unit.range(data.range()).orElseThrow();
    units++;
    int own = 0;
    for (int i = 0; i < CONDITIONS; ) {
      Held held = conditions.get();
      ResponsePrediction prediction =
          response.at(PredictionCondition.atVoltage(held.degC(), held.volts()));
      if (prediction.value().isPresent()) {
        i++;
        own += take(name, prediction.value().get(), held, truth) ? 1 : 0;
      }
    }
    worstInside = Math.min(worstInside, own);
  }

  private boolean take(String name, ResponsePrediction.Value value, Held held, TrueCurve truth) {
    double u = value.errorPpm().standardUncertainty();
    double e = value.errorPpm().value() - truth.y(held.volts(), held.degC()) * 1e6;
    double ratio = Math.abs(e) / (2 * u);
    ratios.add(ratio);
    expanded.add(2 * u);
    inside += ratio <= 1 ? 1 : 0;
    byAssumption += value.basis() == ResponsePrediction.Basis.BY_ASSUMPTION ? 1 : 0;
    if (ratio > worstRatio) {
      worstRatio = ratio;
      worst =
          String.format(
              Locale.ROOT,
              "%s at %.1f degC, %.2f V: off by %.3f ppm, U %.3f ppm",
              name,
              held.degC(),
              held.volts(),
              e,
              2 * u);
    }
    return ratio <= 1;
  }

  /** A temperature between the visits, no nearer to one than a kelvin. */
  static double between(double[] visitsDegC, SplittableRandom chance) {
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    for (double t : visitsDegC) {
      low = Math.min(low, t);
      high = Math.max(high, t);
    }
    while (true) {
      double degC = low + (high - low) * chance.nextDouble();
      boolean near = false;
      for (double t : visitsDegC) {
        near |= Math.abs(t - degC) < 1;
      }
      if (!near) {
        return degC;
      }
    }
  }

  double share() {
    return inside / (double) ratios.size();
  }

  double median() {
    return middle(ratios);
  }

  int units() {
    return units;
  }

  private static double middle(List<Double> of) {
    List<Double> sorted = new ArrayList<>(of);
    Collections.sort(sorted);
    return sorted.get(sorted.size() / 2);
  }

  @Override
  public String toString() {
    return String.format(
        Locale.ROOT,
        "%d units, %d held-out conditions: inside U in %.2f %%, median |e|/U %.3f, median U %.3f"
            + " ppm, by assumption %.1f %%; worst unit %d of %d inside; farthest %s",
        units,
        ratios.size(),
        100 * share(),
        median(),
        middle(expanded),
        100.0 * byAssumption / ratios.size(),
        worstInside,
        CONDITIONS,
        worst);
  }
}
