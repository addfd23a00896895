// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import millrace.quantity.NumberText;

/**
 * A temperature that was added to a night while it ran.
 *
 * @param degC the setpoint, degC
 * @param afterStay the stay that it comes after, from 0
 */
public record AddedTemperature(double degC, int afterStay) {
  private static final Pattern STORED = Pattern.compile("(\\S+) degC after stay (\\d+)");

  String stored() {
    return "%s degC after stay %s".formatted(NumberText.print(degC), afterStay);
  }

  static Optional<AddedTemperature> of(String stored) {
    Matcher words = STORED.matcher(stored);
    return words.matches()
        ? Optional.of(
            new AddedTemperature(
                NumberText.parse(words.group(1)).orElseThrow(), Integer.parseInt(words.group(2))))
        : Optional.empty();
  }
}
