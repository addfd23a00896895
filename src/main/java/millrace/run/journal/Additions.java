// SPDX-License-Identifier: Apache-2.0
package millrace.run.journal;

import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import millrace.quantity.Numbers;
import millrace.sequence.Added;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;

/**
 * Temperatures that were added to a night while it ran: facts of its run, so that a resume and
 * whoever looks at it know the same plan.
 */
public final class Additions {
  private static final String NAME = "added temperature ";
  private static final Pattern VALUE = Pattern.compile("(\\S+) degC after stay (\\d+)");

  private Additions() {}

  /**
   * The plan with all that was added.
   *
   * @param plan as its sequence says
   * @param facts of its run
   * @return the plan that counts
   */
  public static Plan to(Plan plan, Map<String, String> facts) {
    Plan all = plan;
    for (int n = 1; facts.containsKey(NAME + n); n++) {
      Matcher words = VALUE.matcher(facts.get(NAME + n));
      if (words.matches()) {
        double degC = Numbers.parse(words.group(1)).orElseThrow();
        all = Added.to(all, degC, Integer.parseInt(words.group(2)));
      }
    }
    return all;
  }

  /** A fact that is to be kept. */
  record Fact(String name, String value) {}

  static Fact fact(int number, double degC, int stay) {
    return new Fact(NAME + number, "%s degC after stay %s".formatted(Numbers.print(degC), stay));
  }

  /** How many there are. */
  static int count(Map<String, String> facts) {
    return (int) facts.keySet().stream().filter(n -> n.startsWith(NAME)).count();
  }

  /** The stay that is under way at a point, else the next one. */
  public static Optional<Integer> stay(Plan plan, PlannedPoint at) {
    return plan.points().stream()
        .skip(plan.placeOf(at))
        .filter(p -> p.temperature().isPresent())
        .map(p -> p.temperature().get().visit())
        .findFirst();
  }
}
