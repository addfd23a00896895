// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.function.Function;
import millrace.analysis.uncertainty.Estimate;

/**
 * Merges points of a long run: neighbours in voltage of one visit and supply become one, so that a
 * fit takes seconds. Their means lose no information on the model.
 */
final class LongRunPointMerging {
  /** Above this number points are merged. */
  private static final int MOST = 400;

  private LongRunPointMerging() {}

  static List<ResponsePoint> of(List<ResponsePoint> points) {
    int together = (points.size() + MOST - 1) / MOST;
    if (together < 2) {
      return points;
    }
    Map<String, List<ResponsePoint>> alike = new TreeMap<>();
    for (ResponsePoint p : points) {
      alike.computeIfAbsent(p.visit() + " " + p.supplyV(), k -> new ArrayList<>()).add(p);
    }
    List<ResponsePoint> means = new ArrayList<>();
    for (List<ResponsePoint> group : alike.values()) {
      group.sort(Comparator.comparingDouble(p -> p.voltageV().value()));
      for (int i = 0; i < group.size(); i += together) {
        means.add(mean(group.subList(i, Math.min(i + together, group.size()))));
      }
    }
    return means;
  }

  private static ResponsePoint mean(List<ResponsePoint> points) {
    ResponsePoint first = points.get(0);
    OptionalDouble time =
        points.stream()
            .map(ResponsePoint::timeS)
            .filter(OptionalDouble::isPresent)
            .mapToDouble(OptionalDouble::getAsDouble)
            .average();
    return new ResponsePoint(
        first.key(),
        first.visit(),
        time,
        mean(points, ResponsePoint::currentA),
        mean(points, ResponsePoint::voltageV),
        mean(points, ResponsePoint::temperatureDegC),
        first.supplyV());
  }

  private static Estimate mean(
      List<ResponsePoint> points, Function<ResponsePoint, Estimate> which) {
    return Estimate.mean(points.stream().map(which).toList());
  }
}
