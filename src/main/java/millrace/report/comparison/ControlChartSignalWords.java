// SPDX-License-Identifier: Apache-2.0
package millrace.report.comparison;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import millrace.analysis.batch.ChartSignal;
import millrace.analysis.batch.IndividualsChart;
import millrace.assessment.comparison.BatchDistribution;
import millrace.assessment.comparison.BatchDistribution.Entry;
import millrace.assessment.comparison.BatchDistribution.Statistics;
import millrace.assessment.comparison.ComparedRun;
import millrace.assessment.comparison.Comparison;

/** Control chart signals in words, by run and serial number. */
final class ControlChartSignalWords {
  /** Fewest values for a chart; fewer would set its limits from two or three steps. */
  static final int FEWEST = 10;

  /** The note for all signals. */
  static final String CHANCE =
      "Run rules and trend rules of the NIST/SEMATECH e-Handbook, 6.3.2; chance alone gives one in"
          + " about 92 values.";

  private ControlChartSignalWords() {}

  /**
   * One signal.
   *
   * @param of the quantity concerned
   * @param first its first run
   * @param last its last run
   * @param words the signal in words
   * @param value the single value concerned; empty text for several
   */
  record Said(
      BatchDistribution of, ComparedRun first, ComparedRun last, String words, String value) {
    /** Whether one run gives it alone. */
    private boolean single() {
      return first.id() == last.id();
    }

    /** The run with its value, or the first and the last run. */
    String where() {
      return single()
          ? UnitWords.named(first) + (value.isEmpty() ? "" : ": " + value)
          : UnitWords.named(first) + " to " + UnitWords.named(last);
    }
  }

  /** All signals of the quantities with a limit; single values come first. */
  static List<Said> of(Comparison c) {
    List<Said> all = new ArrayList<>();
    CapabilityWords.limited(c).forEach(d -> all.addAll(of(d)));
    all.sort(Comparator.comparing(s -> s.single() ? 0 : 1));
    return all;
  }

  /** The signals of one chart; none if there are too few values for a chart. */
  static List<Said> of(BatchDistribution d) {
    List<Entry> counting = d.counting();
    List<Said> said = new ArrayList<>();
    if (counting.size() < FEWEST) {
      return said;
    }
    IndividualsChart chart = d.statistics().flatMap(Statistics::chart).orElseThrow();
    for (ChartSignal s : chart.signals()) {
      said.add(
          new Said(
              d,
              counting.get(s.first()).run(),
              counting.get(s.last()).run(),
              words(d, chart, s),
              value(d, s)));
    }
    for (int i : chart.rangesOutside()) {
      said.add(
          new Said(
              d,
              counting.get(i - 1).run(),
              counting.get(i).run(),
              "the step is larger than " + MeasurandWords.number(chart.rangeLimit(), d.what()),
              ""));
    }
    return said;
  }

  private static String value(BatchDistribution d, ChartSignal s) {
    return s.rule() == ChartSignal.Rule.BEYOND
        ? MeasurandWords.number(d.counting().get(s.first()).value().orElseThrow(), d.what())
        : "";
  }

  private static String words(BatchDistribution d, IndividualsChart chart, ChartSignal s) {
    String side = s.above() ? "above" : "below";
    return switch (s.rule()) {
      case BEYOND ->
          "%s the chart's limit of %s"
              .formatted(
                  side,
                  MeasurandWords.number(
                      s.above() ? chart.limits().upper() : chart.limits().lower(), d.what()));
      case TWO_OF_THREE -> "2 of 3 in a row more than 2 sigma %s the mean".formatted(side);
      case FOUR_OF_FIVE -> "4 of 5 in a row more than 1 sigma %s the mean".formatted(side);
      case EIGHT -> "8 or more in a row %s the mean".formatted(side);
      case TREND -> "6 or more in a row %s".formatted(s.above() ? "rising" : "falling");
      case ALTERNATING -> "14 or more in a row up and down by turns";
    };
  }
}
