// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import java.util.List;
import java.util.Optional;

/** Content of a plot: series, bands, and lines at a number of an axis. */
public sealed interface Mark {
  /**
   * The words for the legend.
   *
   * @return the words; empty for a mark with its own label
   */
  Optional<String> legend();

  /** Extends the range of an axis by a value with its bar. */
  private static void see(AxisExtent along, double value, double half) {
    along.see(value - half);
    along.see(value + half);
  }

  /**
   * Widens both axes for this mark, bars included.
   *
   * @param canvas the extents of the later canvas
   */
  void claim(Canvas.Extents canvas);

  /**
   * Draws the mark.
   *
   * @param canvas the frame and its axes
   */
  void draw(Canvas canvas);

  /**
   * Draws a sample of the mark in the legend.
   *
   * @param canvas destination
   * @param x left end, px
   * @param y middle, px
   */
  default void sample(Canvas canvas, double x, double y) {}

  /**
   * Points with uncertainty bars.
   *
   * @param name description in words
   * @param look style of the points
   * @param spots the points; may be empty
   * @param asidePx shift of the points from their place, so that bars of series at the same places
   *     stay apart, px
   */
  record Points(String name, SeriesStyle look, List<PointWithErrorBar> spots, double asidePx)
      implements Mark {
    /** Above this number of points one element draws them all: a page would be of nothing else. */
    private static final int MANY = 300;

    /** Copies the list. */
    public Points {
      spots = List.copyOf(spots);
    }

    /**
     * Points at their exact place.
     *
     * @param name description in words
     * @param seriesStyle style of the points
     * @param spots the points; may be empty
     * @return the mark
     */
    public static Points of(String name, SeriesStyle seriesStyle, List<PointWithErrorBar> spots) {
      return new Points(name, seriesStyle, spots, 0);
    }

    @Override
    public Optional<String> legend() {
      return Optional.of(name);
    }

    @Override
    public void claim(Canvas.Extents canvas) {
      for (PointWithErrorBar s : spots) {
        Mark.see(canvas.x(), s.x(), s.halfX());
        Mark.see(canvas.y(), s.y(), s.halfY());
      }
    }

    @Override
    public void draw(Canvas canvas) {
      List<PointWithErrorBar> shown = spots.stream().filter(canvas::shows).toList();
      if (shown.size() > MANY) {
        canvas.crowd(shown, look, asidePx);
      } else {
        shown.forEach(s -> canvas.spot(s, look, asidePx));
      }
    }

    @Override
    public void sample(Canvas canvas, double x, double y) {
      canvas.sample(x + Canvas.SAMPLE_PX / 2, y, look);
    }
  }

  /**
   * A line through given corners.
   *
   * @param name description in words
   * @param look style of the line
   * @param corners corners in the order of drawing
   */
  record Curve(String name, SeriesStyle look, List<PlotLinePoint> corners) implements Mark {
    /** Copies the list. */
    public Curve {
      corners = List.copyOf(corners);
    }

    @Override
    public Optional<String> legend() {
      return Optional.of(name);
    }

    @Override
    public void claim(Canvas.Extents canvas) {
      for (PlotLinePoint c : corners) {
        canvas.x().see(c.x());
        canvas.y().see(c.y());
      }
    }

    @Override
    public void draw(Canvas canvas) {
      canvas.curve(corners, look);
    }

    @Override
    public void sample(Canvas canvas, double x, double y) {
      canvas.dash(x, y, look);
    }
  }

  /**
   * A shaded band, such as the uncertainty of a fit.
   *
   * @param name description in words
   * @param edges in rising order of x
   */
  record Band(String name, List<BandEdges> edges) implements Mark {
    /** Copies the list. */
    public Band {
      edges = List.copyOf(edges);
    }

    @Override
    public Optional<String> legend() {
      return Optional.of(name);
    }

    @Override
    public void claim(Canvas.Extents canvas) {
      for (BandEdges e : edges) {
        canvas.x().see(e.x());
        canvas.y().see(e.low());
        canvas.y().see(e.high());
      }
    }

    @Override
    public void draw(Canvas canvas) {
      canvas.band(edges);
    }

    @Override
    public void sample(Canvas canvas, double x, double y) {
      canvas.patch(x, y);
    }
  }

  /**
   * A horizontal line at an important number, such as a limit; its label is at its right end.
   *
   * @param label description in words; empty for an obvious line, such as zero
   * @param y position, in base units
   */
  record Level(String label, double y) implements Mark {
    @Override
    public Optional<String> legend() {
      return Optional.empty();
    }

    @Override
    public void claim(Canvas.Extents canvas) {
      canvas.y().see(y);
    }

    @Override
    public void draw(Canvas canvas) {
      canvas.level(label, y);
    }
  }

  /**
   * A vertical line at an important number, such as a compliance voltage; its label is above it and
   * its uncertainty is shaded.
   *
   * @param label description in words
   * @param x position, in base units
   * @param halfX half the width of the shade, 0 for none
   */
  record Upright(String label, double x, double halfX) implements Mark {
    UprightLine line() {
      return new UprightLine(label, x, halfX);
    }

    @Override
    public Optional<String> legend() {
      return Optional.empty();
    }

    @Override
    public void claim(Canvas.Extents canvas) {
      Mark.see(canvas.x(), x, halfX);
    }

    @Override
    public void draw(Canvas canvas) {
      canvas.upright(line());
    }
  }
}
