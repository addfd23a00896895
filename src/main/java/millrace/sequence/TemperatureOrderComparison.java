// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import millrace.datasheet.Datasheet;
import millrace.sequence.Plan.PlannedPoint;

/** Compares orders of the temperatures of a plan by the time of moves and soaks. */
public final class TemperatureOrderComparison {
  /** With more stays than this, orders are not enumerated. */
  private static final int MOST_STAYS = 9;

  private final ChamberTime chamber;
  private final double startDegC;
  private final List<Double> written;
  private List<Double> best;
  private double bestS;

  /**
   * One order.
   *
   * @param what it in words
   * @param temperatureDegC the setpoints, degC
   * @param seconds moves and soaks, s
   */
  public record Order(String what, List<Double> temperatureDegC, double seconds) {
    /** Copies the list. */
    public Order {
      temperatureDegC = List.copyOf(temperatureDegC);
    }
  }

  private TemperatureOrderComparison(ChamberTime chamber, double startDegC, List<Double> written) {
    this.chamber = chamber;
    this.startDegC = startDegC;
    this.written = written;
    this.best = written;
    this.bestS = chamber.lapS(startDegC, written);
  }

  /**
   * Compares orders.
   *
   * @param plan the plan
   * @param datasheet gives the thermal time constant and the promised temperature coefficient
   * @param benchSpeeds how fast the bench goes
   * @return first the order as written; then the shortest one that begins and ends at the same
   *     temperatures and, if the written one does, goes to the hot end before the cold one; last,
   *     each temperature once, rising. Empty with fewer than three stays.
   */
  public static List<Order> of(Plan plan, Datasheet datasheet, BenchSpeeds benchSpeeds) {
    List<Double> written = plan.stays();
    Optional<PlannedPoint> first =
        plan.points().stream().filter(p -> p.temperature().isPresent()).findFirst();
    if (written.size() < 3 || first.isEmpty()) {
      return List.of();
    }
    ChamberTime chamber =
        ChamberTime.of(first.get().temperature().orElseThrow(), plan, datasheet, benchSpeeds);
    return new TemperatureOrderComparison(chamber, datasheet.referenceTemperatureDegC(), written)
        .all();
  }

  private List<Order> all() {
    List<Order> orders = new ArrayList<>();
    orders.add(order("as written", written));
    if (written.size() <= MOST_STAYS) {
      List<Double> middle = new ArrayList<>(written.subList(1, written.size() - 1));
      extend(new ArrayList<>(List.of(written.get(0))), middle);
      orders.add(order("shortest that begins and ends alike", best));
    }
    List<Double> once = new ArrayList<>(new TreeSet<>(written));
    if (once.size() < written.size()) {
      orders.add(order("each once, rising (tells no hysteresis)", once));
    }
    return orders;
  }

  private Order order(String what, List<Double> temperatures) {
    return new Order(what, temperatures, chamber.lapS(startDegC, temperatures));
  }

  private void extend(List<Double> begun, List<Double> left) {
    if (left.isEmpty()) {
      begun.add(written.get(written.size() - 1));
      boolean apart = !begun.get(begun.size() - 1).equals(begun.get(begun.size() - 2));
      double seconds = chamber.lapS(startDegC, begun);
      if (apart && seconds < bestS - 1 && (hotFirst(begun) || !hotFirst(written))) {
        best = List.copyOf(begun);
        bestS = seconds;
      }
      begun.remove(begun.size() - 1);
      return;
    }
    for (double next : new TreeSet<>(left)) {
      if (next != begun.get(begun.size() - 1)) {
        left.remove(next);
        begun.add(next);
        extend(begun, left);
        begun.remove(begun.size() - 1);
        left.add(next);
      }
    }
  }

  private static boolean hotFirst(List<Double> order) {
    double highest = order.stream().mapToDouble(d -> d).max().orElse(0);
    double lowest = order.stream().mapToDouble(d -> d).min().orElse(0);
    return order.indexOf(highest) < order.indexOf(lowest);
  }
}
