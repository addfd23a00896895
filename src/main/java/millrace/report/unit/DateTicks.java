// SPDX-License-Identifier: Apache-2.0
package millrace.report.unit;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.Map;
import java.util.TreeMap;

/** Places along an axis of days that carry a date. Stateless. */
final class DateTicks {
  private static final int MOST = 6;
  private static final int[] DAYS = {1, 2, 5, 10};
  private static final int[] MONTHS = {1, 2, 3, 6, 12, 24, 60, 120, 240, 600};
  private static final int YEAR = 12;
  private static final long FEW_DAYS = 60;

  private DateTicks() {}

  /**
   * Dates between two days, at most six, on the first of a month or year where they lie months
   * apart.
   *
   * @param low the first day, days since 1970-01-01
   * @param high the last day
   * @return name by day; at least one
   */
  static Map<Double, String> between(double low, double high) {
    LocalDate first = LocalDate.ofEpochDay((long) Math.floor(low));
    LocalDate last = LocalDate.ofEpochDay((long) Math.ceil(high));
    long days = ChronoUnit.DAYS.between(first, last);
    return days <= FEW_DAYS ? days(first, last, days) : months(first, last, days);
  }

  private static Map<Double, String> days(LocalDate first, LocalDate last, long span) {
    int step = DAYS[DAYS.length - 1];
    for (int i = DAYS.length - 1; i >= 0 && span / DAYS[i] < MOST; i--) {
      step = DAYS[i];
    }
    Map<Double, String> ticks = new TreeMap<>();
    for (LocalDate d = first; !d.isAfter(last); d = d.plusDays(step)) {
      ticks.put((double) d.toEpochDay(), d.toString());
    }
    return ticks;
  }

  private static Map<Double, String> months(LocalDate first, LocalDate last, long span) {
    int step = MONTHS[MONTHS.length - 1];
    for (int i = MONTHS.length - 1; i >= 0 && span / (30.4 * MONTHS[i]) < MOST; i--) {
      step = MONTHS[i];
    }
    LocalDate d = first.withDayOfYear(1);
    Map<Double, String> ticks = new TreeMap<>();
    for (; !d.isAfter(last); d = d.plusMonths(step)) {
      if (!d.isBefore(first)) {
        String whole = d.toString();
        ticks.put(
            (double) d.toEpochDay(),
            step >= YEAR ? whole.substring(0, 4) : whole.substring(0, whole.length() - 3));
      }
    }
    if (ticks.isEmpty()) {
      ticks.put((double) first.toEpochDay(), first.toString());
    }
    return ticks;
  }
}
