// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;

/**
 * The points' y with all errors: those of the current directly, those of the voltage by the local
 * slope, those of the temperature by the slope over temperature (methods.md 11.2).
 *
 * @param y each point with its errors, a number
 * @param covariance of y without the scatter between visits
 * @param notes what a reader must know
 */
@SuppressWarnings("ArrayRecordComponent") // read only in this package, never compared
record ResponsePointErrors(List<Estimate> y, double[][] covariance, List<String> notes) {
  /** An error below this is rounding error, a number. */
  private static final double FLOOR = 1e-10;

  /** Allowed rounding error of a variance, as a share of the largest. */
  private static final double ROUNDING = 1e-13;

  /**
   * Collects the errors.
   *
   * @param m the points
   * @param slopePerK sensitivity of y to an error of the temperature, 1/K
   */
  static ResponsePointErrors of(ResponseFitPoints m, double slopePerK) {
    List<Estimate> y = new ArrayList<>();
    List<String> notes = new ArrayList<>();
    for (ResponseFitPoints.Visit visit : m.visits()) {
      for (int i : visit.members()) {
        y.add(effective(m, i, visit.slope().orElse(0), slopePerK));
      }
    }
    y = inOrder(m, y);
    if (y.stream().noneMatch(e -> e.pointUncertainty() > 0)) {
      y = scattered(m, y);
      notes.add(
          "no point-wise uncertainty is known: the scatter about each visit's line stands in");
    } else {
      y = atLeast(m, y);
    }
    return new ResponsePointErrors(y, covariance(y), notes);
  }

  private static List<Estimate> inOrder(ResponseFitPoints m, List<Estimate> byVisit) {
    Estimate[] sorted = new Estimate[byVisit.size()];
    int next = 0;
    for (ResponseFitPoints.Visit visit : m.visits()) {
      for (int i : visit.members()) {
        sorted[i] = byVisit.get(next++);
      }
    }
    return List.of(sorted);
  }

  private static Estimate effective(
      ResponseFitPoints m, int i, double slopePerV, double slopePerK) {
    ResponsePoint p = m.points().get(i);
    double sign = Math.signum(m.data().nominalA());
    double[] weights = {1, -slopePerV * sign, -slopePerK};
    List<Estimate> terms =
        List.of(m.error(i), p.voltageV().errorsOnly(), p.temperatureDegC().errorsOnly());
    return Estimate.combine(0, weights, terms);
  }

  /** A point without a stated error has at least the uncertainty of the best of the others. */
  private static List<Estimate> atLeast(ResponseFitPoints m, List<Estimate> y) {
    double least =
        y.stream().mapToDouble(Estimate::pointUncertainty).filter(u -> u > 0).min().orElse(FLOOR);
    List<Estimate> all = new ArrayList<>();
    for (int i = 0; i < y.size(); i++) {
      String key = m.points().get(i).key();
      ErrorSource own = ErrorSource.normal("as the best point", ErrorSource.POINT, key, least, "1");
      all.add(y.get(i).pointUncertainty() > 0 ? y.get(i) : y.get(i).with(own, 1));
    }
    return all;
  }

  /** Without point-wise errors: the scatter of the points about the line of their visit. */
  private static List<Estimate> scattered(ResponseFitPoints m, List<Estimate> y) {
    double squares = 0;
    int degrees = 0;
    for (ResponseFitPoints.Visit v : m.visits()) {
      double slope = v.slope().orElse(0);
      double meanV = mean(v, i -> m.places().get(i).v());
      double meanY = mean(v, m::y);
      for (int i : v.members()) {
        squares += Math.pow(m.y(i) - meanY - slope * (m.places().get(i).v() - meanV), 2);
      }
      degrees += Math.max(0, v.members().length - (v.slope().isPresent() ? 2 : 1));
    }
    double s = degrees > 0 ? Math.sqrt(squares / degrees) : 0;
    if (s <= FLOOR) {
      return y;
    }
    List<Estimate> with = new ArrayList<>();
    for (int i = 0; i < y.size(); i++) {
      ErrorSource scatter =
          ErrorSource.normal(
                  "scatter about the line", ErrorSource.POINT, m.points().get(i).key(), s, "1")
              .sizedBy(OptionalDouble.of(degrees), m.data().range());
      with.add(y.get(i).with(scatter, 1));
    }
    return with;
  }

  private static double mean(ResponseFitPoints.Visit v, ResponseFitPoints.Over over) {
    double sum = 0;
    for (int i : v.members()) {
      sum += over.of(i);
    }
    return sum / v.members().length;
  }

  private static double[][] covariance(List<Estimate> y) {
    int n = y.size();
    double[][] c = new double[n][n];
    Map<ErrorSource, List<double[]>> shared = new HashMap<>();
    for (int i = 0; i < n; i++) {
      int at = i;
      y.get(i)
          .forEachPart(
              (source, part) ->
                  shared
                      .computeIfAbsent(source, s -> new ArrayList<>())
                      .add(new double[] {at, part}));
    }
    for (List<double[]> parts : shared.values()) {
      for (double[] a : parts) {
        for (double[] b : parts) {
          c[(int) a[0]][(int) b[0]] += a[1] * b[1];
        }
      }
    }
    double largest = 0;
    for (int i = 0; i < n; i++) {
      largest = Math.max(largest, c[i][i]);
    }
    for (int i = 0; i < n; i++) {
      c[i][i] += Math.max(FLOOR * FLOOR, ROUNDING * largest);
    }
    return c;
  }
}
