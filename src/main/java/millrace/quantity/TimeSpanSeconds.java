// SPDX-License-Identifier: Apache-2.0
package millrace.quantity;

import java.time.Duration;

/** Time spans as numbers of seconds, and back. Stateless. */
public final class TimeSpanSeconds {
  private TimeSpanSeconds() {}

  /**
   * A span of some seconds.
   *
   * @param seconds s; rounded to nanoseconds, at most 292 years either way
   * @return the span
   */
  public static Duration ofSeconds(double seconds) {
    return Duration.ofNanos(Math.round(seconds * 1e9));
  }

  /**
   * How many seconds a span has.
   *
   * @param span at most 292 years either way
   * @return s
   */
  public static double seconds(Duration span) {
    return span.toNanos() / 1e9;
  }

  /**
   * A span for people.
   *
   * @param span at most 292 years either way
   * @param digits that count, 1 or more
   * @return such as {@code 2 h}
   */
  public static String print(Duration span, int digits) {
    return QuantityText.print(seconds(span), Dimension.TIME, digits);
  }

  /**
   * A span as people say it, to the nearest minute from 100 s on.
   *
   * @param span 0 or more
   * @return such as {@code 40 s}, {@code 12 min}, {@code 3 h 05 min}
   */
  public static String inWords(Duration span) {
    long minutes = Math.round(span.toSeconds() / 60.0);
    if (span.toSeconds() < 100) {
      return span.toSeconds() + " s";
    }
    return minutes < 100
        ? minutes + " min"
        : NumberText.format("%d h %02d min", minutes / 60, minutes % 60);
  }
}
