// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.screening;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import millrace.analysis.reduction.SampleMedian;
import millrace.assessment.reduction.ReducedPoint;

/**
 * Finds the one outlier of a stay in sweeps without repeats: the point deviates from its
 * neighbouring loads, and the same load of other stays does not. A real bend of the unit occurs at
 * every temperature, and a knee affects more than one load. Stateless.
 */
final class LoneOutlierScreening {
  /**
   * Larger than for repeats: a leakage bends a sweep at one end, and twice as much at a 10 K higher
   * temperature.
   */
  private static final double SIGMAS = 10;

  /** The second largest deviation must be smaller by this factor. */
  private static final double CLEAR = 3;

  private static final int LEAST_LOADS = 6;
  private static final int LEAST_STAYS = 3;

  /** Standard error of a median over that of a mean, squared (normal, from memory). */
  private static final double MEDIAN = Math.PI / 2;

  /** Number of loads at the high end that may fall because of the knee. */
  private static final int TOP = 2;

  private LoneOutlierScreening() {}

  /**
   * An outlying point.
   *
   * @param point the point
   * @param awayA its deviation, A
   * @param uA standard uncertainty of that, A
   */
  record Off(ReducedPoint point, double awayA, double uA) {}

  /**
   * The outliers of one range.
   *
   * @param stays the loads of each stay in rising voltage, each load once; not empty
   * @return at most one of each stay
   */
  static List<Off> of(List<List<ReducedPoint>> stays) {
    int loads = stays.get(0).size();
    boolean comparable =
        stays.size() >= LEAST_STAYS
            && loads >= LEAST_LOADS
            && stays.stream().allMatch(s -> s.size() == loads && alike(s, stays.get(0)));
    List<Off> all = new ArrayList<>();
    for (int s = 0; comparable && s < stays.size(); s++) {
      of(stays, s).ifPresent(all::add);
    }
    return all;
  }

  /** The same loads, or without loads nearly equal voltages. */
  private static boolean alike(List<ReducedPoint> a, List<ReducedPoint> b) {
    double most = b.stream().mapToDouble(LoneOutlierScreening::volts).max().orElse(0);
    return IntStream.range(0, a.size())
        .allMatch(
            i ->
                a.get(i)
                        .point()
                        .conditions()
                        .loadOhm()
                        .equals(b.get(i).point().conditions().loadOhm())
                    && Math.abs(volts(a.get(i)) - volts(b.get(i))) <= 0.02 * most);
  }

  private static double volts(ReducedPoint p) {
    return Math.abs(p.voltageV().value());
  }

  private static Optional<Off> of(List<List<ReducedPoint>> stays, int s) {
    List<Integer> all = IntStream.range(0, stays.get(s).size()).boxed().toList();
    List<Off> found = off(stays, s, all);
    int worst = worst(found);
    if (worst < 0 || size(found.get(worst)) <= SIGMAS) {
      return Optional.empty();
    }
    Off off = found.get(worst);
    boolean falls = off.awayA() * off.point().currentA().value() < 0;
    if (falls && worst >= all.size() - TOP) {
      return Optional.empty();
    }
    List<Off> rest = off(stays, s, all.stream().filter(i -> i != worst).toList());
    double next = rest.stream().mapToDouble(LoneOutlierScreening::size).max().orElse(0);
    return size(off) > CLEAR * next ? Optional.of(off) : Optional.empty();
  }

  private static double size(Off off) {
    return Math.abs(off.awayA()) / off.uA();
  }

  private static int worst(List<Off> found) {
    int worst = -1;
    for (int i = 0; i < found.size(); i++) {
      worst = worst < 0 || size(found.get(i)) > size(found.get(worst)) ? i : worst;
    }
    return worst;
  }

  /** The deviation of each load of a stay; empty if the u of a point is not known. */
  private static List<Off> off(List<List<ReducedPoint>> stays, int s, List<Integer> loads) {
    List<Off> all = new ArrayList<>();
    for (int i = 0; i < loads.size(); i++) {
      double[] own = beside(stays.get(s), loads, i);
      int load = i;
      double[] others =
          IntStream.range(0, stays.size())
              .filter(o -> o != s)
              .mapToDouble(o -> beside(stays.get(o), loads, load)[0])
              .toArray();
      double u = own[1] * Math.sqrt(1 + MEDIAN / others.length);
      if (!(u > 0)) {
        return List.of();
      }
      all.add(new Off(stays.get(s).get(loads.get(i)), own[0] - SampleMedian.of(others), u));
    }
    return all;
  }

  /**
   * The deviation of a load from the line through the two nearest, and its standard uncertainty, A.
   */
  private static double[] beside(List<ReducedPoint> stay, List<Integer> loads, int i) {
    int a = i == 0 ? 1 : i == loads.size() - 1 ? i - 2 : i - 1;
    int b = i == 0 ? 2 : i == loads.size() - 1 ? i - 1 : i + 1;
    ReducedPoint here = stay.get(loads.get(i));
    ReducedPoint low = stay.get(loads.get(a));
    ReducedPoint high = stay.get(loads.get(b));
    double share = (volts(here) - volts(low)) / (volts(high) - volts(low));
    double away =
        here.currentA().value()
            - (1 - share) * low.currentA().value()
            - share * high.currentA().value();
    double square =
        Math.pow(here.currentA().pointUncertainty(), 2)
            + Math.pow((1 - share) * low.currentA().pointUncertainty(), 2)
            + Math.pow(share * high.currentA().pointUncertainty(), 2);
    return new double[] {away, Double.isFinite(away) ? Math.sqrt(square) : 0};
  }
}
