// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.IntStream;

/**
 * Prior scales of the terms of a response, from unweighted least squares before the fit (methods.md
 * 11.1).
 *
 * @param slopePerK a, the slope of y over t at low voltage, 1/K; 0 with one temperature
 * @param mostPerV G_m, the largest |slope| of y over V of a visit, at least 0.1 ppm/V_s, 1/V
 * @param doublingPerV G_d, change of these slopes per L; 0 if they do not determine it, 1/V
 * @param statedPerK2 standard deviation of b_2 as the parts state it, 1/K^2; empty if they do not
 */
record ResponseTermScales(
    double slopePerK, double mostPerV, double doublingPerV, Optional<Double> statedPerK2) {
  /** Points up to this share of V_s determine the slope over temperature. */
  private static final double LOW = 0.3;

  private static final double LEAST_PPM = 0.1e-6;

  /** D for the scales, K. */
  static final double USUAL_D_K = 10;

  static ResponseTermScales of(ResponseFitPoints m, Optional<Double> statedPerK2) {
    double most = LEAST_PPM / m.scaleV();
    for (ResponseFitPoints.Visit v : m.visits()) {
      most = Math.max(most, Math.abs(v.slope().orElse(0)));
    }
    return new ResponseTermScales(slopePerK(m), most, doubling(m), statedPerK2);
  }

  private static double slopePerK(ResponseFitPoints m) {
    if (m.temperatures().size() < 2) {
      return 0;
    }
    List<Integer> low =
        IntStream.range(0, m.places().size())
            .filter(i -> Math.abs(m.places().get(i).v()) < LOW * m.scaleV())
            .boxed()
            .toList();
    List<Integer> which = spread(m, low) ? low : lowestOfVisits(m);
    return m.slope(which, i -> m.places().get(i).t());
  }

  private static boolean spread(ResponseFitPoints m, List<Integer> which) {
    double from = which.stream().mapToDouble(i -> m.places().get(i).t()).min().orElse(0);
    double to = which.stream().mapToDouble(i -> m.places().get(i).t()).max().orElse(0);
    return to - from > ResponseFitPoints.SAME_K;
  }

  private static List<Integer> lowestOfVisits(ResponseFitPoints m) {
    return m.visits().stream().map(v -> lowest(m, v)).toList();
  }

  private static int lowest(ResponseFitPoints m, ResponseFitPoints.Visit visit) {
    int lowest = visit.members()[0];
    for (int i : visit.members()) {
      if (Math.abs(m.places().get(i).v()) < Math.abs(m.places().get(lowest).v())) {
        lowest = i;
      }
    }
    return lowest;
  }

  private static double doubling(ResponseFitPoints m) {
    if (m.sweptTemperatures().size() < 2) {
      return 0;
    }
    double[] slopes =
        m.visits().stream()
            .map(ResponseFitPoints.Visit::slope)
            .filter(OptionalDouble::isPresent)
            .mapToDouble(OptionalDouble::getAsDouble)
            .sorted()
            .toArray();
    double[] l =
        m.visits().stream()
            .filter(v -> v.slope().isPresent())
            .mapToDouble(v -> Math.pow(2, v.t() / USUAL_D_K))
            .sorted()
            .toArray();
    return (slopes[slopes.length - 1] - slopes[0]) / (l[l.length - 1] - l[0]);
  }

  /** s_b, the standard deviation of b_2, 1/K^2. */
  double curvature() {
    return statedPerK2.orElseGet(() -> Math.hypot(0.03e-6, Math.abs(slopePerK) / 200));
  }
}
