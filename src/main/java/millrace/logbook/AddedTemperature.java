// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.util.regex.Matcher;
import java.util.regex.Pattern;
import millrace.fault.LogbookException;
import millrace.quantity.NumberText;

/**
 * A temperature that was added to a night while it ran.
 *
 * @param degC the setpoint, degC
 * @param afterStay the stay that it comes after, from 0
 */
public record AddedTemperature(double degC, int afterStay) {
  private static final Pattern WORDS = Pattern.compile("(\\S+) degC after stay (\\d+)");

  /**
   * The text for a change of the plan.
   *
   * @return a text that {@link #of} reads; stays are counted from 1 in it
   */
  public String words() {
    return "%s degC after stay %s".formatted(NumberText.print(degC), afterStay + 1);
  }

  /**
   * Reads it from a change of a plan.
   *
   * @param change one that adds a temperature
   * @return the temperature
   * @throws LogbookException if it does not say which
   */
  public static AddedTemperature of(PlanChange change) {
    Matcher words = WORDS.matcher(change.words());
    if (!words.matches() || NumberText.parse(words.group(1)).isEmpty()) {
      throw new LogbookException(
          "a change of the plan says '%s'; expected a temperature as in '40 degC after stay 2'. Check the file with 'millrace show RUN --verify'."
              .formatted(change.words()));
    }
    double degC = NumberText.parse(words.group(1)).getAsDouble();
    return new AddedTemperature(degC, Integer.parseInt(words.group(2)) - 1);
  }
}
