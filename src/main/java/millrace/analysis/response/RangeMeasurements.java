// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.List;
import java.util.Map;
import millrace.analysis.load.LoadCurve;
import millrace.analysis.uncertainty.Estimate;

/**
 * The measurements of one range.
 *
 * @param range the range
 * @param nominalA I_N, A, not 0
 * @param points in the order of time; points past the edge of their visit are not used
 * @param edges the voltage that the current holds up to, by visit; a visit without an edge is
 *     absent
 * @param temperatureKnown false if no temperature was recorded: the temperature of the points is
 *     then T_ref as a placeholder
 */
public record RangeMeasurements(
    String range,
    double nominalA,
    List<ResponsePoint> points,
    Map<Integer, Edge> edges,
    boolean temperatureKnown) {

  /**
   * The edge up to which the points of a visit count (methods.md 11.2, 11.4).
   *
   * @param upToV 0.95 (V_c - U), or if V_c was not reached the highest voltage of the plateau;
   *     magnitude, V
   * @param lineUpToV highest voltage of the points in the plateau line of methods.md 3.1, V
   * @param reached true if the compliance voltage was found there
   */
  public record Edge(double upToV, double lineUpToV, boolean reached) {
    /** The edge of a visit measured only past the knee: none of its points counts. */
    public static final Edge NO_PLATEAU = new Edge(-1, -1, true);

    private static final double SAFE_SHARE = 0.95;

    /**
     * The edge given by a load sweep.
     *
     * @param curve the sweep of a visit
     * @param coverage probability of the interval of V_c
     * @return the edge
     */
    public static Edge of(LoadCurve curve, double coverage) {
      if (curve.noPlateau().isPresent()) {
        return NO_PLATEAU;
      }
      double line =
          curve.plateau().stream().mapToDouble(p -> Math.abs(p.voltageV().value())).max().orElse(0);
      return curve
          .crossing()
          .map(c -> new Edge(SAFE_SHARE * (c.valueV() - c.expandedV(coverage)), line, true))
          .orElseGet(() -> new Edge(line, line, false));
    }
  }

  /** Copies the collections and checks the nominal current. */
  public RangeMeasurements {
    if (!Double.isFinite(nominalA) || nominalA == 0) {
      throw new IllegalArgumentException("I_N is " + nominalA + ", must be finite and not 0");
    }
    points = List.copyOf(points);
    edges = Map.copyOf(edges);
  }

  /** The error of a point, I/I_N - 1. */
  Estimate error(ResponsePoint p) {
    return p.currentA().times(1 / nominalA).plus(-1);
  }

  /** The voltage in the direction of the current: positive where the load is passive, V. */
  double volts(ResponsePoint p) {
    return Math.signum(nominalA) * p.voltageV().value();
  }
}
