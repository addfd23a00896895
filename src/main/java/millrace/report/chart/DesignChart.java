// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.evidence.ResultQuantity;
import millrace.quantity.Dimension;
import millrace.report.plot.Axis;
import millrace.report.plot.Chart;
import millrace.report.plot.Mark;
import millrace.report.plot.PointWithErrorBar;
import millrace.report.plot.SeriesStyle;

/**
 * Chart of one quantity over all ranges: predicted from the parts, with the measured value beside
 * it.
 */
public final class DesignChart {
  private static final double ASIDE_PX = 9;

  private DesignChart() {}

  /**
   * The chart of one quantity.
   *
   * @param all values of that quantity, one per range, at least one
   * @param coverage share of units within the predicted interval
   * @param stamp a word that the chart must show
   */
  public static Chart of(List<PredictedAndMeasured> all, double coverage, Optional<String> stamp) {
    List<PointWithErrorBar> worst = new ArrayList<>();
    List<PointWithErrorBar> drawn = new ArrayList<>();
    List<PointWithErrorBar> measured = new ArrayList<>();
    for (int i = 0; i < all.size(); i++) {
      PredictedAndMeasured p = all.get(i);
      worst.add(between(i, p.spread().lowest(), p.spread().highest()));
      drawn.add(between(i, p.spread().lower(), p.spread().upper()));
      if (p.measured().isPresent()) {
        measured.add(PointWithErrorBar.of(i, p.value(), p.expanded()));
      }
    }
    List<Mark> marks = new ArrayList<>();
    marks.add(new Mark.Points("worst case, bars end to end", SeriesStyle.THIRD, worst, -ASIDE_PX));
    String units = "predicted, bars " + PredictedAndMeasured.percent(coverage) + " of units";
    marks.add(new Mark.Points(units, SeriesStyle.SECOND, drawn, 0));
    if (!measured.isEmpty()) {
      marks.add(new Mark.Points("measured, bars U", SeriesStyle.FIRST, measured, ASIDE_PX));
    }
    ResultQuantity quantity = all.get(0).quantity();
    String against = measured.isEmpty() ? ", predicted" : ", measured against predicted";
    Chart.Words words =
        new Chart.Words(
            "All ranges: " + quantity.inWords() + against,
            "For each range the worst case, the predicted interval"
                + (measured.isEmpty() ? "." : ", and the measured value."),
            stamp);
    List<String> names = all.stream().map(PredictedAndMeasured::range).toList();
    return new Chart(words, Axis.named("Range", names), up(quantity), marks, Chart.Size.PAGE);
  }

  private static PointWithErrorBar between(int place, double low, double high) {
    return PointWithErrorBar.of(place, (low + high) / 2, Math.abs(high - low) / 2);
  }

  private static Axis up(ResultQuantity quantity) {
    String words = quantity.inWords();
    String capital = Character.toUpperCase(words.charAt(0)) + words.substring(1);
    return switch (quantity) {
      case OUTPUT_RESISTANCE -> Axis.of(capital, Dimension.RESISTANCE).byFactors();
      case COMPLIANCE_VOLTAGE -> Axis.of(capital, Dimension.VOLTAGE);
      default -> Axis.counted(capital, quantity.unit()).with(0);
    };
  }
}
