// SPDX-License-Identifier: Apache-2.0
package millrace.report.words;

import java.util.ArrayList;
import java.util.DoubleSummaryStatistics;
import java.util.List;
import millrace.evidence.MeasuredSignal;
import millrace.logbook.ReadingCursor;
import millrace.logbook.RunReader;
import millrace.quantity.NumberText;

/** Temperatures and humidity during a run, as read. Stateless. */
public final class SurroundingsWords {
  private static final List<MeasuredSignal> SURROUNDINGS =
      List.of(
          MeasuredSignal.UNIT_TEMPERATURE,
          MeasuredSignal.CHAMBER_TEMPERATURE,
          MeasuredSignal.LAB_TEMPERATURE,
          MeasuredSignal.HUMIDITY);

  private SurroundingsWords() {}

  /** Mean and span of each quantity that was read; empty if none was. */
  public static List<String> of(RunReader run) {
    List<String> lines = new ArrayList<>();
    for (MeasuredSignal signal : SURROUNDINGS) {
      DoubleSummaryStatistics seen = seen(run, signal);
      if (seen.getCount() > 0) {
        String least = print(seen.getMin(), signal);
        String largest = print(seen.getMax(), signal);
        lines.add(
            "%s %s%s"
                .formatted(
                    signal.text(),
                    print(seen.getAverage(), signal),
                    least.equals(largest) ? "" : ", from " + least + " to " + largest));
      }
    }
    return lines;
  }

  private static DoubleSummaryStatistics seen(RunReader run, MeasuredSignal signal) {
    DoubleSummaryStatistics seen = new DoubleSummaryStatistics();
    try (ReadingCursor cursor = run.readings(List.of(signal))) {
      while (cursor.next()) {
        if (cursor.hasValue()) {
          seen.accept(cursor.value());
        }
      }
    }
    return seen;
  }

  private static String print(double value, MeasuredSignal signal) {
    return switch (signal) {
      case HUMIDITY -> NumberText.fixed(value * 100, 0) + " %";
      default -> NumberText.fixed(value, 1) + " \u00b0C";
    };
  }
}
