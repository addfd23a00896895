// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * How many units passed (methods.md 8): the first result of a unit counts for first-pass yield; a
 * retest counts only with a recorded cause and within the allowed number; the last valid result
 * decides, never the best.
 *
 * @param firstPass units whose first result passed
 * @param afterRetest units whose last valid result passed
 * @param retests how many retests counted
 * @param refused retests that did not count: no cause, or beyond the number allowed
 */
public record Yield(
    ProportionInterval firstPass, ProportionInterval afterRetest, int retests, int refused) {

  /**
   * One test of one unit.
   *
   * @param unit its serial number
   * @param passed the outcome
   * @param cause why it was tested again; empty for a first test
   */
  public record Attempt(String unit, boolean passed, Optional<String> cause) {}

  /** What is known of one unit so far. */
  private static final class Unit {
    private final boolean first;
    private boolean last;
    private int retests;

    Unit(boolean first) {
      this.first = first;
      this.last = first;
    }
  }

  /**
   * The yield of a batch.
   *
   * @param attempts in the order of time; at least one
   * @param mostRetests N, how often a unit may be tested again, 0 or more
   * @param coverage probability of intervals
   * @return the yield
   * @throws IllegalArgumentException without attempts
   */
  public static Yield of(List<Attempt> attempts, int mostRetests, double coverage) {
    Map<String, Unit> units = new LinkedHashMap<>();
    int refused = 0;
    for (Attempt attempt : attempts) {
      Unit unit = units.get(attempt.unit());
      if (unit == null) {
        units.put(attempt.unit(), new Unit(attempt.passed()));
      } else if (attempt.cause().isPresent() && unit.retests < mostRetests) {
        unit.retests++;
        unit.last = attempt.passed();
      } else {
        refused++;
      }
    }
    int first = (int) units.values().stream().filter(u -> u.first).count();
    int last = (int) units.values().stream().filter(u -> u.last).count();
    return new Yield(
        ProportionInterval.of(first, units.size(), coverage),
        ProportionInterval.of(last, units.size(), coverage),
        units.values().stream().mapToInt(u -> u.retests).sum(),
        refused);
  }
}
