package millrace.bench.driver;

import com.google.re2j.Pattern;
import java.time.Duration;
import java.util.Optional;

/**
 * A question for a number.
 *
 * @param text what is asked, with placeholders
 * @param number takes the number out of the reply, by its first group; empty: a number and perhaps
 *     a unit are all there is
 * @param unitSize what one counted unit is in base units
 * @param unitOffset what is added after scaling
 * @param within how long to wait for the reply; empty for the driver's usual
 */
record Question(
    Template text,
    Optional<Pattern> number,
    double unitSize,
    double unitOffset,
    Optional<Duration> within) {
  static final Pattern PLAIN_NUMBER =
      Pattern.compile("^\\s*([-+]?(?:[0-9]+\\.?[0-9]*|\\.[0-9]+)(?:[eE][-+]?[0-9]+)?)");
}
