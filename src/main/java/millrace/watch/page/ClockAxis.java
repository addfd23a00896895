// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import millrace.quantity.TimeSpanSeconds;
import millrace.report.plot.Axis;
import millrace.report.plot.Chart;

/** An axis of a run's time, labelled with the local clock time of the bench. */
final class ClockAxis {
  /** Half a wide screen with large type, and a telephone with type that is still read. */
  static final Chart.Size SIZE = new Chart.Size(440, 90, true);

  private static final int MOST = 9;
  private static final List<Integer> STEPS_MIN =
      List.of(1, 2, 5, 10, 15, 30, 60, 120, 180, 240, 360, 720, 1440, 2880, 10_080);
  private static final DateTimeFormatter HOUR = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);

  private ClockAxis() {}

  /** Hours of the run. */
  static double hours(Duration elapsed) {
    return TimeSpanSeconds.seconds(elapsed) / 3600;
  }

  /**
   * Makes an axis over a part of a run.
   *
   * @param look the run
   * @param fromH its first hour, in the run's own time
   * @param toH its last
   */
  static Axis of(RunSnapshot look, double fromH, double toH) {
    ZoneOffset offset = look.run().start().offset();
    Instant zero = look.clock().now().minus(look.clock().elapsed());
    Map<Double, String> places = new TreeMap<>();
    double spanMin = Math.max(1, (toH - fromH) * 60);
    int step =
        STEPS_MIN.stream()
            .filter(s -> spanMin / s <= MOST)
            .findFirst()
            .orElse(STEPS_MIN.get(STEPS_MIN.size() - 1));
    LocalDateTime from = LocalDateTime.ofInstant(plus(zero, fromH), offset);
    LocalDateTime day = from.toLocalDate().atStartOfDay();
    long first = Duration.between(day, from).toMinutes() / step;
    for (long n = first; n <= first + MOST + 1; n++) {
      LocalDateTime mark = day.plusMinutes(n * step);
      double hour = hours(Duration.between(zero, mark.toInstant(offset)));
      if (hour >= fromH && hour <= toH) {
        places.put(hour, HOUR.format(mark));
      }
    }
    if (places.isEmpty()) {
      places.put(fromH, HOUR.format(from));
    }
    return Axis.inOrder("Clock time at the bench", places);
  }

  private static Instant plus(Instant zero, double hours) {
    return zero.plus(TimeSpanSeconds.ofSeconds(hours * 3600));
  }
}
