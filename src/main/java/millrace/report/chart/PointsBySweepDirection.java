// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.HashMap;
import java.util.Map;
import java.util.stream.Stream;
import millrace.analysis.load.LoadPoint;
import millrace.assessment.tally.PointName;
import millrace.evidence.Point;
import millrace.evidence.SweepDirection;
import millrace.report.plot.SeriesStyle;

/** Sorts points of a load sweep by the sweep direction at which they were taken. */
public final class PointsBySweepDirection {
  /** Part of the key of a point from a search, which goes in both directions. */
  private static final String SEARCH = "/knee/";

  /** The way in which a point was reached; constants are in the order of drawing. */
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

    /** Horizontal shift of the points where several ways are drawn, px. */
    double asidePx() {
      return asidePx;
    }

    /** The words for the error bars. */
    String barred() {
      return words + BARS;
    }
  }

  private final Map<String, Way> ways = new HashMap<>();

  /**
   * Without points so far.
   *
   * @param drawn the points of load sweeps, which alone are asked for
   */
  public PointsBySweepDirection(Stream<LoadPoint> drawn) {
    drawn.forEach(p -> ways.put(p.key(), Way.UNKNOWN));
  }

  /**
   * Sorts a point of the run.
   *
   * @param point any; passed over if it is not drawn
   */
  public void add(Point point) {
    ways.computeIfPresent(PointName.of(point), (name, before) -> way(point));
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
