// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import java.util.List;
import millrace.quantity.NumberText;

/** Drawing area for marks: a frame with two axes. Created by {@link Chart} only. */
public final class Canvas {
  static final double SAMPLE_PX = 26;
  private static final double MARKER = 3.6;
  private static final double CAP = 3;

  private final SvgWriter svgWriter;
  private final PlotFrame frame;
  private final Axis.Drawn across;
  private final Axis.Drawn up;
  private final PlotLabelPlacement labels;

  /** Extents of the data along both axes. */
  public static final class Extents {
    private final AxisExtent x;
    private final AxisExtent y;

    Extents(AxisExtent x, AxisExtent y) {
      this.x = x;
      this.y = y;
    }

    AxisExtent x() {
      return x;
    }

    AxisExtent y() {
      return y;
    }
  }

  Canvas(
      SvgWriter svgWriter,
      PlotFrame frame,
      Axis.Drawn across,
      Axis.Drawn up,
      PlotLabelPlacement labels) {
    this.svgWriter = svgWriter;
    this.frame = frame;
    this.across = across;
    this.up = up;
    this.labels = labels;
  }

  /** A canvas for samples only; it has no area for marks. */
  static Canvas forSamples(SvgWriter svgWriter) {
    Axis.Drawn none = new Axis.Drawn(new AxisSpan(0, 1), List.of(), "", false);
    PlotLabelPlacement labels =
        PlotLabelPlacement.of(
            List.of(), none, new PlotLabelPlacement.Place(0, 0, 100, 100, svgWriter));
    return new Canvas(svgWriter, labels.frame(), none, none, labels);
  }

  double px(double x) {
    return frame.x(across.share(x));
  }

  double py(double y) {
    return frame.y(up.share(y));
  }

  /** Whether the axes can show a point; a logarithmic axis cannot show 0 or less. */
  boolean shows(PointWithErrorBar s) {
    return (!across.logarithmic() || s.x() > 0) && (!up.logarithmic() || s.y() > 0);
  }

  private double clampX(double x) {
    double at = across.logarithmic() && x <= 0 ? frame.left() : px(x);
    return Math.max(frame.left(), Math.min(frame.right(), at));
  }

  private double clampY(double y) {
    double at = up.logarithmic() && y <= 0 ? frame.bottom() : py(y);
    return Math.max(frame.top(), Math.min(frame.bottom(), at));
  }

  void spot(PointWithErrorBar s, SeriesStyle seriesStyle, double asidePx) {
    double x = px(s.x()) + asidePx;
    double y = py(s.y());
    SvgWriter.Stroke stroke = SvgWriter.Stroke.full(seriesStyle);
    if (s.halfY() > 0) {
      double low = clampY(s.y() - s.halfY());
      double high = clampY(s.y() + s.halfY());
      svgWriter.path(
          bar(x - CAP, high, CAP, 0) + upright(x, high, low) + bar(x - CAP, low, CAP, 0), stroke);
    }
    if (s.halfX() > 0) {
      double low = clampX(s.x() - s.halfX());
      double high = clampX(s.x() + s.halfX());
      svgWriter.path(
          bar(low, y - CAP, 0, CAP) + flat(low, high, y) + bar(high, y - CAP, 0, CAP), stroke);
    }
    svgWriter.shape(outline(x, y, seriesStyle.shape()), seriesStyle, "spot");
  }

  /** Many spots as two paths, bars below marks, to a tenth of a pixel. */
  void crowd(List<PointWithErrorBar> spots, SeriesStyle seriesStyle, double asidePx) {
    StringBuilder bars = new StringBuilder();
    StringBuilder marks = new StringBuilder();
    boolean dots = seriesStyle.isDot();
    String outline = dots ? "h0" : relative(seriesStyle.shape());
    for (PointWithErrorBar s : spots) {
      double x = px(s.x()) + asidePx;
      double y = py(s.y());
      if (s.halfY() > 0) {
        double high = clampY(s.y() + s.halfY());
        double length = clampY(s.y() - s.halfY()) - high;
        bars.append('M').append(tenths(x - CAP)).append(' ').append(tenths(high));
        bars.append("h6m-3 0v").append(tenths(length)).append("m-3 0h6");
      }
      if (s.halfX() > 0) {
        double low = clampX(s.x() - s.halfX());
        double length = clampX(s.x() + s.halfX()) - low;
        bars.append('M').append(tenths(low)).append(' ').append(tenths(y - CAP));
        bars.append("v6m0-3h").append(tenths(length)).append("m0-3v6");
      }
      marks.append('M').append(tenths(x)).append(' ').append(tenths(y)).append(outline);
    }
    if (bars.length() > 0) {
      svgWriter.path(bars.toString(), SvgWriter.Stroke.full(seriesStyle));
    }
    if (dots) {
      svgWriter.dots(marks.toString(), 2 * MARKER, seriesStyle);
    } else {
      svgWriter.shape(marks.toString(), seriesStyle, "spots");
    }
  }

  private static String tenths(double px) {
    String fixed = NumberText.fixed(px, 1);
    return fixed.endsWith(".0") ? fixed.substring(0, fixed.length() - 2) : fixed;
  }

  /** The outline of a mark, from the middle on, each corner from the one before. */
  private static String relative(SeriesStyle.Shape shape) {
    StringBuilder d = new StringBuilder();
    double[] before = {0, 0};
    for (double[] corner : corners(shape)) {
      d.append(d.length() == 0 ? 'm' : 'l').append(SvgWriter.px(corner[0] - before[0]));
      d.append(' ').append(SvgWriter.px(corner[1] - before[1]));
      before = corner;
    }
    return d.append('z').toString();
  }

  private static String bar(double x, double y, double dx, double dy) {
    return "M"
        + SvgWriter.px(x)
        + " "
        + SvgWriter.px(y)
        + "l"
        + SvgWriter.px(2 * dx)
        + " "
        + SvgWriter.px(2 * dy);
  }

  private static String upright(double x, double from, double to) {
    return "M" + SvgWriter.px(x) + " " + SvgWriter.px(from) + "V" + SvgWriter.px(to);
  }

  private static String flat(double from, double to, double y) {
    return "M" + SvgWriter.px(from) + " " + SvgWriter.px(y) + "H" + SvgWriter.px(to);
  }

  void sample(double x, double y, SeriesStyle seriesStyle) {
    svgWriter.shape(outline(x, y, seriesStyle.shape()), seriesStyle, "sample");
  }

  static String circle(double x, double y) {
    return outline(x, y, SeriesStyle.Shape.CIRCLE);
  }

  private static String outline(double x, double y, SeriesStyle.Shape shape) {
    StringBuilder d = new StringBuilder();
    for (double[] corner : corners(shape)) {
      d.append(d.length() == 0 ? 'M' : 'L');
      d.append(SvgWriter.px(x + corner[0])).append(' ').append(SvgWriter.px(y + corner[1]));
    }
    return d.append('Z').toString();
  }

  /** The corners of a mark about its middle, px. */
  private static double[][] corners(SeriesStyle.Shape shape) {
    double r = MARKER;
    return switch (shape) {
      case CIRCLE -> polygon(r, 0, 12);
      case SQUARE -> polygon(r * 1.2, Math.PI / 4, 4);
      case TRIANGLE -> polygon(r * 1.3, -Math.PI / 2, 3);
      case DIAMOND -> polygon(r * 1.35, 0, 4);
    };
  }

  private static double[][] polygon(double r, double turn, int corners) {
    double[][] all = new double[corners][];
    for (int i = 0; i < corners; i++) {
      double a = turn + 2 * Math.PI * i / corners;
      all[i] = new double[] {r * Math.cos(a), r * Math.sin(a)};
    }
    return all;
  }

  void curve(List<PlotLinePoint> corners, SeriesStyle seriesStyle) {
    String d = Thinning.path(corners, c -> px(c.x()), c -> corner(c.x(), c.y()));
    if (!d.isEmpty()) {
      svgWriter.path(d, SvgWriter.Stroke.of(seriesStyle));
    }
  }

  void dash(double x, double y, SeriesStyle seriesStyle) {
    svgWriter.line(x, y, x + SAMPLE_PX, y, SvgWriter.Stroke.of(seriesStyle));
  }

  void patch(double x, double y) {
    svgWriter.shade(
        flat(x, x + SAMPLE_PX, y - 5) + "V" + SvgWriter.px(y + 5) + "H" + SvgWriter.px(x) + "Z");
  }

  void band(List<BandEdges> edges) {
    if (edges.size() < 2) {
      return;
    }
    StringBuilder d = new StringBuilder();
    for (int i = 0; i < edges.size(); i++) {
      d.append(i == 0 ? 'M' : 'L').append(corner(edges.get(i).x(), edges.get(i).high()));
    }
    for (int i = edges.size() - 1; i >= 0; i--) {
      d.append('L').append(corner(edges.get(i).x(), edges.get(i).low()));
    }
    svgWriter.shade(d.append('Z').toString());
  }

  /** A place in the frame, in SVG path syntax. */
  String corner(double x, double y) {
    return SvgWriter.px(clampX(x)) + " " + SvgWriter.px(clampY(y));
  }

  void level(String label, double at) {
    double y = py(at);
    svgWriter.line(frame.left(), y, frame.right(), y, SvgWriter.Stroke.MARK);
    labels.besides(label, y);
  }

  void upright(UprightLine mark) {
    double x = px(mark.x());
    if (mark.halfX() > 0) {
      double low = clampX(mark.x() - mark.halfX());
      double high = clampX(mark.x() + mark.halfX());
      svgWriter.shade(
          flat(low, high, frame.top())
              + "V"
              + SvgWriter.px(frame.bottom())
              + "H"
              + SvgWriter.px(low)
              + "Z");
    }
    svgWriter.line(x, labels.foot(mark), x, frame.bottom(), SvgWriter.Stroke.MARK);
    labels.above(mark, svgWriter);
  }
}
