// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.time.LocalDate;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** How long a calibration counts, by the calendar. */
class RecalibrationIntervalTest {
  @ParameterizedTest
  @CsvSource({
    "12 months, 2026-11-30, 2027-11-30",
    "1 year, 2028-02-29, 2029-02-28",
    "3 months, 2026-11-30, 2027-02-28",
    "2 weeks, 2026-12-24, 2027-01-07",
    "90 days, 2026-11-30, 2027-02-28"
  })
  void endsByTheCalendar(String text, LocalDate from, LocalDate due) {
    assertEquals(due, RecalibrationInterval.parse(text).after(from));
  }

  @ParameterizedTest
  @ValueSource(strings = {"1.5 years", "12 mo", "12months", "0 months", "-1 year", "a year", "12"})
  void refusesWhatIsNoIntervalOfTheCalendar(String text) {
    assertThrows(IllegalArgumentException.class, () -> RecalibrationInterval.parse(text));
  }
}
