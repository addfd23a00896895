// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import com.google.re2j.Matcher;
import com.google.re2j.Pattern;
import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * A question for a number.
 *
 * @param text what is asked, with placeholders
 * @param number the pattern that the whole reply must match, with placeholders; its first group is
 *     the number; empty: the reply is the number alone
 * @param units in what the number counts
 * @param digits how the number is written
 * @param extent what the reply consists of
 * @param within how long to wait for the reply; empty for the driver's usual
 */
record NumericQuery(
    CommandTemplate text,
    Optional<CommandTemplate> number,
    ReplyUnits units,
    ReplyNumberFormat digits,
    ReplyExtent extent,
    Optional<Duration> within) {

  /** The query with its placeholders filled in. */
  Filled filled(Map<String, ?> values) {
    return new Filled(this, text.fill(values), number.map(n -> n.pattern(values)));
  }

  /**
   * A question that is ready to be asked.
   *
   * @param question what it was made from
   * @param text what is asked
   * @param number takes the number out of the reply
   */
  record Filled(NumericQuery question, String text, Optional<Pattern> number) {
    /** The number in a reply; empty if the reply does not match its pattern. */
    Optional<ReplyUnits.Counted> count(String raw) {
      return question.count(number, raw);
    }
  }

  private Optional<ReplyUnits.Counted> count(Optional<Pattern> pattern, String raw) {
    String reply = raw.strip();
    return pattern.isPresent() ? taken(pattern.get().matcher(reply)) : counted(reply);
  }

  /**
   * A reply with more than the pattern is refused: the rest may be a unit, or half of another
   * reply.
   */
  private Optional<ReplyUnits.Counted> taken(Matcher matcher) {
    String group = matcher.matches() ? matcher.group(1) : null;
    return group == null ? Optional.empty() : counted(group.strip());
  }

  private Optional<ReplyUnits.Counted> counted(String number) {
    return digits == ReplyNumberFormat.DECIMAL ? units.read(number) : units.alone(hex(number));
  }

  private static OptionalDouble hex(String number) {
    if (!number.matches("[0-9A-Fa-f]{1,13}")) {
      return OptionalDouble.empty();
    }
    long value = Long.parseLong(number, 16);
    long half = 1L << (4 * number.length() - 1);
    return OptionalDouble.of((double) (value >= half ? value - 2 * half : value));
  }
}
