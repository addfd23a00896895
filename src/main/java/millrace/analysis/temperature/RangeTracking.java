// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import millrace.analysis.uncertainty.Estimate;
import millrace.analysis.uncertainty.ResultBuilder;
import millrace.analysis.uncertainty.ResultBuilder.Subject;
import millrace.evidence.MeasurementModel;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultConditions;
import millrace.evidence.ResultQuantity;

/**
 * Tracking of two ranges: the slope of I_a/I_b over T, both taken within one soak, each range
 * bracketed by the other so that a drift cancels (methods.md 5.7). Pure; thread-safe.
 */
public final class RangeTracking {
  private RangeTracking() {}

  /**
   * The tracking of two ranges.
   *
   * @param range the range of the numerator
   * @param points its currents; several in one stay where it was measured more than once
   * @param other the range of the denominator
   * @param otherPoints its currents
   */
  public record Pair(
      String range,
      List<TemperaturePoint> points,
      String other,
      List<TemperaturePoint> otherPoints) {

    /** Copies the lists. */
    public Pair {
      points = List.copyOf(points);
      otherPoints = List.copyOf(otherPoints);
    }
  }

  /**
   * The slope of the ratio, relative to the ratio at T_ref (methods.md 5.7).
   *
   * @param pair the ranges and their currents
   * @param referenceDegC T_ref, degC
   * @param coverage probability of the interval
   * @param notes what a reader must know, such as which thermometer counts
   * @return tracking, ppm/K, or what is missing
   */
  public static Result of(Pair pair, double referenceDegC, double coverage, List<String> notes) {
    Subject subject =
        new Subject(
            ResultQuantity.TRACKING,
            Optional.of(pair.range()),
            ResultConditions.NONE.with(ResultConditionKey.OTHER_RANGE, pair.other()),
            Optional.of("I_a/I_b at T_ref"),
            "slope of the ratio of two ranges, Methods of Millrace 5.7",
            coverage);
    List<String> all = new ArrayList<>(notes);
    List<TemperaturePoint> ratios = ratios(pair, all);
    if (ratios.isEmpty()) {
      return ResultBuilder.missing(subject, "no soak in which both ranges were measured", 0);
    }
    TemperatureStudy study = TemperatureStudy.of(ratios, referenceDegC);
    if (study.slope().isEmpty()) {
      return ResultBuilder.missing(
          subject, "both ranges were measured at one temperature only", ratios.size());
    }
    if (study.visits() == 0) {
      all.add("T_ref was not visited: the ratio there is the fitted value");
    }
    TemperatureLine line = study.slope().get();
    Estimate slope = line.ppmPerK().forUse(line.use());
    return ResultBuilder.value(subject, slope, ratios.size(), all)
        .by(
            MeasurementModel.of(
                    "S = sum w_i (r_i/r_ref - 1), r_i = I_a/I_b within one soak, sum w_i = 0, sum"
                        + " w_i T_i = 1")
                .with("r_ref", "1", study.referenceA().value())
                .with("T_i", "degC", study.degC())
                .with("r_i", "1", study.currentsA()));
  }

  /** One ratio per stay that has both ranges. */
  private static List<TemperaturePoint> ratios(Pair pair, List<String> notes) {
    Map<Integer, List<TemperaturePoint>> mine = byStay(pair.points());
    Map<Integer, List<TemperaturePoint>> others = byStay(pair.otherPoints());
    List<TemperaturePoint> ratios = new ArrayList<>();
    int bare = 0;
    for (Map.Entry<Integer, List<TemperaturePoint>> stay : mine.entrySet()) {
      List<TemperaturePoint> b = others.getOrDefault(stay.getKey(), List.of());
      if (b.isEmpty() || zero(b)) {
        continue;
      }
      bare += bracketed(stay.getValue(), b) || bracketed(b, stay.getValue()) ? 0 : 1;
      ratios.add(ratio(stay.getValue(), b));
    }
    if (bare > 0) {
      notes.add(
          "in %s of %s soaks no range is bracketed by the other: a drift within the soak counts"
              .formatted(bare, ratios.size()));
    }
    return ratios;
  }

  private static Map<Integer, List<TemperaturePoint>> byStay(List<TemperaturePoint> points) {
    Map<Integer, List<TemperaturePoint>> stays = new TreeMap<>();
    points.forEach(p -> stays.computeIfAbsent(p.stay(), s -> new ArrayList<>()).add(p));
    stays.values().forEach(s -> s.sort(Comparator.comparingDouble(TemperaturePoint::timeS)));
    return stays;
  }

  private static boolean zero(List<TemperaturePoint> points) {
    return points.stream().anyMatch(p -> p.currentA().value() == 0);
  }

  private static boolean bracketed(List<TemperaturePoint> inner, List<TemperaturePoint> outer) {
    return outer.size() >= 2
        && inner.get(0).timeS() >= outer.get(0).timeS()
        && inner.get(inner.size() - 1).timeS() <= outer.get(outer.size() - 1).timeS();
  }

  /** Both at one moment: the range that brackets the other is interpolated to the other's times. */
  private static TemperaturePoint ratio(List<TemperaturePoint> a, List<TemperaturePoint> b) {
    boolean aInside = bracketed(a, b) || !bracketed(b, a);
    List<TemperaturePoint> inner = aInside ? a : b;
    List<TemperaturePoint> outer = aInside ? b : a;
    List<Estimate> ratios = new ArrayList<>();
    for (TemperaturePoint p : inner) {
      Estimate there = interpolated(outer, p.timeS());
      ratios.add(aInside ? p.currentA().over(there) : there.over(p.currentA()));
    }
    TemperaturePoint first = inner.get(0);
    return new TemperaturePoint(
        first.stay(),
        first.setpointDegC(),
        Estimate.mean(inner.stream().map(TemperaturePoint::temperatureDegC).toList()),
        Estimate.mean(ratios),
        inner.stream().mapToDouble(TemperaturePoint::timeS).average().orElse(0));
  }

  private static Estimate interpolated(List<TemperaturePoint> outer, double timeS) {
    for (int i = 1; i < outer.size(); i++) {
      TemperaturePoint from = outer.get(i - 1);
      TemperaturePoint to = outer.get(i);
      if (timeS >= from.timeS() && timeS <= to.timeS() && to.timeS() > from.timeS()) {
        double share = (timeS - from.timeS()) / (to.timeS() - from.timeS());
        return Estimate.combine(
            0, new double[] {1 - share, share}, List.of(from.currentA(), to.currentA()));
      }
    }
    return Estimate.mean(outer.stream().map(TemperaturePoint::currentA).toList());
  }
}
