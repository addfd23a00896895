// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.evidence.PointConditions;
import millrace.evidence.ResultQuantity;
import millrace.fault.FilePlace;

/**
 * A sequence expanded for one datasheet: every point in its order, the same for preview, run,
 * resume and report. The tree of the sequence is kept in the paths of the points.
 *
 * @param title what the sequence is called
 * @param compute the results that are wanted; empty for all that the readings give
 * @param points the points in their order; keys are unique
 */
public record Plan(String title, Set<ResultQuantity> compute, List<PlannedPoint> points) {
  /** Copies the collections. */
  public Plan {
    compute = Set.copyOf(compute);
    points = List.copyOf(points);
  }

  /**
   * One point, or a task without readings.
   *
   * @param number the number that people use: its place in the order, from 1; points that are added
   *     later come after all others, so that no number changes
   * @param key its stable name
   * @param path the keys of the sweeps around it, outermost first
   * @param task what is done
   * @param conditions under which conditions
   * @param temperature how its temperature is reached; empty where none is asked for
   * @param rules how readings are taken
   * @param place where it stands in its file
   */
  public record PlannedPoint(
      int number,
      String key,
      List<String> path,
      Task task,
      PointConditions conditions,
      Optional<TemperatureRule> temperature,
      MeasuringRules rules,
      FilePlace place) {
    /** Copies the list. */
    public PlannedPoint {
      path = List.copyOf(path);
    }
  }

  /**
   * How a temperature is reached.
   *
   * @param visit which stay of the run it is, counted over all temperatures, from 0
   * @param rampKPerS fastest change, K/s; infinite for as fast as the chamber can
   * @param soak when the unit counts as being there
   * @param soaking true for points that are taken while the unit is still soaking
   */
  public record TemperatureRule(
      int visit, double rampKPerS, MeasuringRules.SoakRule soak, boolean soaking) {
    TemperatureRule whileSoaking() {
      return new TemperatureRule(visit, rampKPerS, soak, true);
    }
  }

  /**
   * The place of a point.
   *
   * @param point one of the plan's
   * @return how many come before it
   * @throws IllegalArgumentException if it is not in the plan
   */
  public int placeOf(PlannedPoint point) {
    for (int i = 0; i < points.size(); i++) {
      if (points.get(i).number() == point.number()) {
        return i;
      }
    }
    throw new IllegalArgumentException("no point " + point.number() + " in the plan");
  }

  /**
   * The plan without some points.
   *
   * @param keys of those that are not done
   * @return the others, with the numbers that they had
   */
  public Plan without(Set<String> keys) {
    return new Plan(title, compute, points.stream().filter(p -> !keys.contains(p.key())).toList());
  }

  /**
   * The temperatures in the order in which they are visited.
   *
   * @return setpoints, degC; one per stay
   */
  public List<Double> stays() {
    Set<Integer> seen = new LinkedHashSet<>();
    return points.stream()
        .filter(p -> p.temperature().isPresent() && seen.add(p.temperature().get().visit()))
        .map(p -> p.conditions().temperatureDegC().orElseThrow())
        .toList();
  }
}
