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
}
