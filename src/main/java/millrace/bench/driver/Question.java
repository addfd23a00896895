package millrace.bench.driver;

import com.google.re2j.Matcher;
import com.google.re2j.Pattern;
import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.quantity.Numbers;

/**
 * A question for a number.
 *
 * @param text what is asked, with placeholders
 * @param number the pattern that takes the number out of the reply by its first group, with
 *     placeholders; empty: a number and perhaps a unit are all there is
 * @param unitSize what one counted unit is in base units
 * @param digits how the number is written
 * @param extent what the reply consists of
 * @param within how long to wait for the reply; empty for the driver's usual
 */
record Question(
    Template text,
    Optional<Template> number,
    double unitSize,
    Digits digits,
    Extent extent,
    Optional<Duration> within) {

  /** How a number in a reply is written. */
  enum Digits {
    /** As people write numbers. */
    DECIMAL("decimal"),
    /** Hex digits, negative numbers as two's complement of as many digits as there are. */
    HEX("hex");

    private final String text;

    Digits(String text) {
      this.text = text;
    }

    String text() {
      return text;
    }
  }

  private static final Pattern WITH_UNIT =
      Pattern.compile(
          "([-+]?(?:[0-9]+\\.?[0-9]*|\\.[0-9]+)(?:[eE][-+]?[0-9]+)?)\\s*[A-Za-z%\\x{b5}\\x{b0}]{1,8}");

  /** The question with everything put in. */
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
  record Filled(Question question, String text, Optional<Pattern> number) {
    /** The number in a reply, as counted; empty if the reply is off its grammar. */
    OptionalDouble count(String raw) {
      return question.count(number, raw);
    }
  }

  /**
   * A count in base units, rounded once where a whole number of units makes a base unit: 99.5 uA
   * are 99.5 / 1e6 A, while 99.5 x 1e-6 would be rounded twice.
   */
  double inBaseUnits(double count) {
    double inverse = Math.rint(1 / unitSize);
    return Math.abs(inverse * unitSize - 1) < 1e-14 ? count / inverse : count * unitSize;
  }

  private OptionalDouble count(Optional<Pattern> pattern, String raw) {
    String reply = raw.strip();
    if (pattern.isPresent()) {
      return taken(pattern.get().matcher(reply));
    }
    OptionalDouble plain = value(reply);
    if (plain.isPresent() || digits == Digits.HEX) {
      return plain;
    }
    Matcher matcher = WITH_UNIT.matcher(reply);
    return matcher.matches() ? value(matcher.group(1)) : OptionalDouble.empty();
  }

  private OptionalDouble taken(Matcher matcher) {
    if (!matcher.find()) {
      return OptionalDouble.empty();
    }
    String group = matcher.group(1);
    return group == null ? OptionalDouble.empty() : value(group.strip());
  }

  private OptionalDouble value(String number) {
    return digits == Digits.DECIMAL ? Numbers.parse(number) : hex(number);
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
