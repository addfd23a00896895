// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.evidence.PointConditions;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Plan.TemperatureRule;

/** Inserts one more temperature into a plan, with all points of one of its stays. */
public final class TemperatureInsertion {
  private final Plan plan;
  private final double degC;
  private final TemperatureRule rule;
  private final String name;

  private TemperatureInsertion(Plan plan, double degC, TemperatureRule like) {
    this.plan = plan;
    this.degC = degC;
    int visits =
        plan.points().stream()
            .flatMap(p -> p.temperature().stream())
            .mapToInt(TemperatureRule::visit)
            .max()
            .orElse(0);
    this.rule = new TemperatureRule(visits + 1, like.rampKPerS(), like.soak(), false);
    this.name = free(QuantityText.print(degC, Dimension.TEMPERATURE) + " added");
  }

  /**
   * A plan with one more temperature, at which all is done that is done at one of its stays.
   *
   * @param plan the plan
   * @param degC the temperature, degC
   * @param stay the stay that is copied; the new one follows it, see {@link TemperatureRule#visit}
   * @return a plan with the same keys and those of the added points
   * @throws IllegalArgumentException if there is no such stay
   */
  public static Plan to(Plan plan, double degC, int stay) {
    List<PlannedPoint> like =
        plan.points().stream().filter(p -> visit(p).filter(v -> v == stay).isPresent()).toList();
    if (like.isEmpty()) {
      throw new IllegalArgumentException("no stay " + stay + " in the plan");
    }
    TemperatureInsertion added =
        new TemperatureInsertion(plan, degC, like.get(0).temperature().orElseThrow());
    List<PlannedPoint> points = new ArrayList<>(plan.points());
    int at = points.indexOf(like.get(like.size() - 1)) + 1;
    int next = 1 + points.stream().mapToInt(PlannedPoint::number).max().orElse(0);
    for (PlannedPoint p : like) {
      points.add(at++, added.again(p, next++));
    }
    return new Plan(plan.title(), plan.compute(), points);
  }

  private static Optional<Integer> visit(PlannedPoint p) {
    return p.temperature().map(TemperatureRule::visit);
  }

  private String free(String bare) {
    String free = bare;
    for (int n = 2; taken(free); n++) {
      free = bare + " #" + n;
    }
    return free;
  }

  private boolean taken(String word) {
    return plan.points().stream().anyMatch(p -> p.path().contains(word));
  }

  private PlannedPoint again(PlannedPoint p, int number) {
    double before = p.conditions().temperatureDegC().orElseThrow();
    String bare = QuantityText.print(before, Dimension.TEMPERATURE);
    List<String> path =
        p.path().stream()
            .map(word -> word.equals(bare) || word.startsWith(bare + " ") ? name : word)
            .toList();
    String rest = p.key().substring(String.join("/", p.path()).length());
    PointConditions conditions = p.conditions().atTemperature(degC).onVisit(0);
    return new PlannedPoint(
        number,
        String.join("/", path) + rest,
        path,
        p.task(),
        conditions.onVisit(earlier(p, conditions)),
        p.temperature().map(t -> t.soaking() ? rule.whileSoaking() : rule),
        p.rules(),
        p.place());
  }

  private int earlier(PlannedPoint like, PointConditions conditions) {
    return (int)
        plan.points().stream()
            .filter(p -> p.task().equals(like.task()))
            .filter(p -> p.conditions().onVisit(0).equals(conditions))
            .count();
  }
}
