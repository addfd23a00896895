package millrace.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.assessment.comparison.Comparison;
import millrace.report.plot.Axis;
import millrace.report.plot.Chart;
import millrace.report.plot.Look;
import millrace.report.plot.Mark;

/** How often which cause, the most frequent first, and what they come to together. */
final class CauseChart {
  private static final int MOST = 4;

  private CauseChart() {}

  static Chart of(Comparison comparison) {
    List<Comparison.CauseCount> causes = comparison.causes().stream().limit(MOST).toList();
    List<Mark.Corner> bars = new ArrayList<>();
    List<Mark.Spot> sums = new ArrayList<>();
    int sum = 0;
    for (int i = 0; i < causes.size(); i++) {
      int units = causes.get(i).runs().size();
      sum += units;
      bars.addAll(
          List.of(
              new Mark.Corner(i - 0.4, 0),
              new Mark.Corner(i - 0.4, units),
              new Mark.Corner(i + 0.4, units),
              new Mark.Corner(i + 0.4, 0)));
      sums.add(Mark.Spot.of(i, sum, 0));
    }
    Optional<String> stamp =
        comparison.simulated() ? Optional.of(Sheet.SIMULATED) : Optional.empty();
    return new Chart(
        new Chart.Words(
            "Failed units by their likeliest cause",
            "One bar per cause, the most frequent first; points: all up to there together.",
            stamp),
        Axis.named("Cause", causes.stream().map(Comparison.CauseCount::cause).toList()),
        Axis.counted("Units", "").with(0),
        List.of(
            new Mark.Curve("units", Look.FIRST, bars),
            Mark.Points.of("together with those before", Look.SECOND, sums)),
        Chart.Size.PAGE);
  }
}
