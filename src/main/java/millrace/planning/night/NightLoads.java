// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import millrace.analysis.optimum.ExactDesign;

/**
 * The loads of a night, as shares of the compliance. Immutable.
 *
 * @param toTheEdge whether a limit on the current reaches up to the compliance voltage
 */
record NightLoads(boolean toTheEdge) {
  /** The line of the plateau rests on loads below this share of the compliance, %. */
  private static final int PLATEAU_END = 80;

  private static final int MIDDLE = PLATEAU_END / 2;

  /** The load up to which a current is known if the plateau reaches a little beyond it, %. */
  static final int BEYOND = 90;

  private static final int EDGE = 100;

  /** The fewest loads that show current, slope and curvature, %. */
  static final List<Integer> THREE = List.of(0, MIDDLE, PLATEAU_END);

  /** The fewest loads that tell a slope, a drift and a scatter in one pass, %. */
  static final int FEWEST = 5;

  /** The fewest loads that tell a slope, a drift and a scatter in one pass; %, rising. */
  List<Integer> some() {
    return all(FEWEST);
  }

  /**
   * Loads on the plateau where they determine a line best, with one between that shows its
   * curvature; and up to the voltage where the current is promised.
   *
   * @param plateau the number of loads on the plateau, 3 or more
   * @return %, rising
   */
  List<Integer> all(int plateau) {
    double[][] places = {{1, 0}, {1, MIDDLE}, {1, PLATEAU_END}};
    int[] counts = ExactDesign.of(places, plateau - 1, ExactDesign.Criterion.D);
    List<Integer> loads = new ArrayList<>();
    for (int i = 0; i < counts[0]; i++) {
      loads.add(i); // adjacent values: a load given twice would be one point of two repeats
    }
    loads.add(MIDDLE);
    for (int i = counts[2] - 1; i >= 0; i--) {
      loads.add(PLATEAU_END - i);
    }
    loads.add(BEYOND);
    if (toTheEdge) {
      loads.add(EDGE);
    }
    return loads;
  }

  /**
   * An order in which an even drift hardly changes the slope: low and high loads alternate as A B B
   * A, and what lies between comes in the middle (the order of drift-free comparisons of masses;
   * common practice, no source).
   *
   * @param rising the loads, rising
   * @return the same loads
   */
  static List<Integer> balanced(List<Integer> rising) {
    List<Integer> low = new ArrayList<>(rising.stream().filter(p -> p < MIDDLE).toList());
    List<Integer> high =
        new ArrayList<>(rising.stream().filter(p -> p > MIDDLE && p <= PLATEAU_END).toList());
    List<Integer> rest =
        rising.stream().filter(p -> !low.contains(p) && !high.contains(p)).toList();
    List<Integer> ends = new ArrayList<>();
    for (int i = 0; !low.isEmpty() || !high.isEmpty(); i++) {
      boolean fromLow = (i % 4 == 0 || i % 4 == 3) ? !low.isEmpty() : high.isEmpty();
      ends.add(fromLow ? low.remove(0) : high.remove(high.size() - 1));
    }
    List<Integer> order = new ArrayList<>(ends.subList(0, ends.size() / 2));
    order.addAll(rest);
    order.addAll(ends.subList(ends.size() / 2, ends.size()));
    return order;
  }

  /** The sum of squares of the loads on the plateau about their mean, %^2. */
  static double squares(List<Integer> loads) {
    double[] plateau =
        loads.stream().filter(p -> p <= PLATEAU_END).mapToDouble(Integer::doubleValue).toArray();
    double mean = Arrays.stream(plateau).average().orElse(0);
    return Arrays.stream(plateau).map(p -> (p - mean) * (p - mean)).sum();
  }
}
