// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import millrace.analysis.load.LoadPoint;
import millrace.assessment.tally.PointName;
import millrace.evidence.Point;
import millrace.evidence.SweepDirection;
import millrace.report.plot.SeriesStyle;

/** Tells points of a load sweep by the direction in which it went when they were taken. */
public final class PointsBySweepDirection {
  /** What a point of a search, which goes to and fro, has in its key. */
  private static final String SEARCH = "/knee/";

  /** How a point was come to; in the order of drawing. */
  enum Way {
    RISING("load rising", SeriesStyle.FIRST, -3),
    FALLING("load falling", SeriesStyle.THIRD, 3),
    SEARCH("search for the knee", SeriesStyle.SECOND, 0),
    UNKNOWN("measured", SeriesStyle.FIRST, 0);

    private static final String BARS = ", bars 2 u (errors of single points)";
    private final String words;
    private final SeriesStyle seriesStyle;
    private final double asidePx;

    Way(String words, SeriesStyle seriesStyle, double asidePx) {
      this.words = words;
      this.seriesStyle = seriesStyle;
      this.asidePx = asidePx;
    }

    SeriesStyle look() {
      return seriesStyle;
    }

    /** How far its points are drawn beside their place where there are several ways, px. */
    double asidePx() {
      return asidePx;
    }

    /** With what its bars are. */
    String barred() {
      return words + BARS;
    }
  }

  private final Map<String, Way> ways = new HashMap<>();

  /**
   * Of the points of a run.
   *
   * @param points as they were taken, in their order
   */
  public PointsBySweepDirection(List<Point> points) {
    points.forEach(p -> ways.put(PointName.of(p), way(p)));
  }

  private static Way way(Point point) {
    if (point.key().contains(SEARCH)) {
      return Way.SEARCH;
    }
    return point
        .conditions()
        .direction()
        .map(d -> d == SweepDirection.UP ? Way.RISING : Way.FALLING)
        .orElse(Way.UNKNOWN);
  }

  Way of(LoadPoint point) {
    return ways.getOrDefault(point.key(), Way.UNKNOWN);
  }
}
