// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.reduction;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.PointConditions;

/**
 * The slope of the current at each point, so that a current at a voltage includes |dI/dV| u(V):
 * nearly zero on the plateau, most of the uncertainty past the knee (methods.md 3.3).
 */
public final class LocalLoadSlopes {
  /** Voltages within this share of the sweep's highest count as equal. */
  private static final double ONE_VOLTAGE = 1e-3;

  private final IdentityHashMap<ReducedPoint, Double> perV = new IdentityHashMap<>();

  /**
   * Computes the slopes of a run's sweeps.
   *
   * @param points its points, reduced
   */
  public LocalLoadSlopes(List<ReducedPoint> points) {
    Map<List<Object>, List<ReducedPoint>> sweeps = new LinkedHashMap<>();
    for (ReducedPoint p : points) {
      PointConditions c = p.point().conditions();
      sweeps
          .computeIfAbsent(
              List.of(p.range(), p.stay(), c.supplyV(), c.setA()), k -> new ArrayList<>())
          .add(p);
    }
    sweeps.values().forEach(this::sweep);
  }

  private void sweep(List<ReducedPoint> sweep) {
    List<ReducedPoint> sorted = new ArrayList<>(sweep);
    sorted.sort(Comparator.comparingDouble(p -> p.voltageV().value()));
    double highest =
        sorted.stream().mapToDouble(p -> Math.abs(p.voltageV().value())).max().orElse(0);
    for (int i = 0; i < sorted.size(); i++) {
      double below = secant(sorted, i, -1, ONE_VOLTAGE * highest);
      double above = secant(sorted, i, 1, ONE_VOLTAGE * highest);
      perV.put(sorted.get(i), Math.abs(below) > Math.abs(above) ? below : above);
    }
  }

  /** Slope to the nearest point on one side at another voltage, A/V; 0 if there is none. */
  private static double secant(List<ReducedPoint> sorted, int at, int step, double apartV) {
    ReducedPoint here = sorted.get(at);
    for (int i = at + step; i >= 0 && i < sorted.size(); i += step) {
      double dV = sorted.get(i).voltageV().value() - here.voltageV().value();
      if (Math.abs(dV) > apartV) {
        return (sorted.get(i).currentA().value() - here.currentA().value()) / dV;
      }
    }
    return 0;
  }

  /** The current at the measured voltage, with the error from the voltage. */
  public Estimate currentA(ReducedPoint p) {
    Estimate error = p.voltageV().plus(-p.voltageV().value());
    return p.currentA().minus(error.times(perV.getOrDefault(p, 0.0)));
  }
}
