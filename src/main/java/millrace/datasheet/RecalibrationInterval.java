// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The recalibration interval of a unit, in calendar units: a year has no fixed number of days.
 *
 * @param count number of units, 1 to 999
 * @param unit days, weeks, months or years
 */
public record RecalibrationInterval(int count, ChronoUnit unit) {
  private static final int MOST = 999;
  private static final Pattern TEXT = Pattern.compile("([0-9]{1,3}) (day|week|month|year)s?");

  /** Checks the count and the unit. */
  public RecalibrationInterval {
    if (count < 1 || count > MOST) {
      throw new IllegalArgumentException(
          "an interval of " + count + "; expected 1 to " + MOST + ", as in '12 months'");
    }
  }

  /**
   * Reads an interval: a whole number, a blank and one of {@code days}, {@code weeks}, {@code
   * months}, {@code years}. {@code 12 months} and {@code 1 year} are read; {@code 1.5 years} and
   * {@code 12 mo} are refused.
   *
   * @param text such as {@code 12 months}
   * @return the interval
   * @throws IllegalArgumentException if it is none
   */
  public static RecalibrationInterval parse(String text) {
    Matcher m = TEXT.matcher(text);
    if (!m.matches()) {
      throw new IllegalArgumentException(
          "'"
              + text
              + "' is no interval of the calendar; expected a whole number of days, weeks, months"
              + " or years, as in '12 months'");
    }
    return new RecalibrationInterval(
        Integer.parseInt(m.group(1)),
        ChronoUnit.valueOf(m.group(2).toUpperCase(Locale.ROOT) + "S"));
  }

  /**
   * The day on which the interval ends.
   *
   * @param calibrated the day of the calibration
   * @return the same day of a later month; where that month has no such day its last one
   */
  public LocalDate after(LocalDate calibrated) {
    return calibrated.plus(count, unit);
  }
}
