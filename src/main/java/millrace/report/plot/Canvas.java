// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import java.util.List;

/** What marks are drawn on: a frame with two axes. Made by {@link Chart} only. */
public final class Canvas {
  static final double SAMPLE_PX = 26;
  private static final double MARKER = 3.6;
  private static final double CAP = 3;

  private final Pen pen;
  private final Frame frame;
  private final Axis.Drawn across;
  private final Axis.Drawn up;
  private final Labels labels;

  /** What both axes must show. */
  public static final class Extents {
    private final Extent x;
    private final Extent y;

    Extents(Extent x, Extent y) {
      this.x = x;
      this.y = y;
    }

    Extent x() {
      return x;
    }

    Extent y() {
      return y;
    }
  }

  Canvas(Pen pen, Frame frame, Axis.Drawn across, Axis.Drawn up, Labels labels) {
    this.pen = pen;
    this.frame = frame;
    this.across = across;
    this.up = up;
    this.labels = labels;
  }

  /** A canvas for samples alone: it has no room for marks. */
  static Canvas forSamples(Pen pen) {
    Axis.Drawn none = new Axis.Drawn(new Span(0, 1), List.of(), "", false);
    Labels labels = Labels.of(List.of(), none, new Labels.Place(0, 0, 100, 100, pen));
    return new Canvas(pen, labels.frame(), none, none, labels);
  }

  double px(double x) {
    return frame.x(across.share(x));
  }

  double py(double y) {
    return frame.y(up.share(y));
  }

  /** Whether a point can stand on these axes at all: only 0 and below on one of factors cannot. */
  boolean shows(Spot s) {
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

  void spot(Spot s, Look look, double asidePx) {
    double x = px(s.x()) + asidePx;
    double y = py(s.y());
    Pen.Stroke stroke = Pen.Stroke.full(look);
    if (s.halfY() > 0) {
      double low = clampY(s.y() - s.halfY());
      double high = clampY(s.y() + s.halfY());
      pen.path(
          bar(x - CAP, high, CAP, 0) + upright(x, high, low) + bar(x - CAP, low, CAP, 0), stroke);
    }
    if (s.halfX() > 0) {
      double low = clampX(s.x() - s.halfX());
      double high = clampX(s.x() + s.halfX());
      pen.path(bar(low, y - CAP, 0, CAP) + flat(low, high, y) + bar(high, y - CAP, 0, CAP), stroke);
    }
    pen.shape(outline(x, y, look.shape()), look, "spot");
  }

  private static String bar(double x, double y, double dx, double dy) {
    return "M" + Pen.px(x) + " " + Pen.px(y) + "l" + Pen.px(2 * dx) + " " + Pen.px(2 * dy);
  }

  private static String upright(double x, double from, double to) {
    return "M" + Pen.px(x) + " " + Pen.px(from) + "V" + Pen.px(to);
  }

  private static String flat(double from, double to, double y) {
    return "M" + Pen.px(from) + " " + Pen.px(y) + "H" + Pen.px(to);
  }

  void sample(double x, double y, Look look) {
    pen.shape(outline(x, y, look.shape()), look, "sample");
  }

  static String circle(double x, double y) {
    return outline(x, y, Look.Shape.CIRCLE);
  }

  private static String outline(double x, double y, Look.Shape shape) {
    double r = MARKER;
    return switch (shape) {
      case CIRCLE -> polygon(x, y, r, 0, 12);
      case SQUARE -> polygon(x, y, r * 1.2, Math.PI / 4, 4);
      case TRIANGLE -> polygon(x, y, r * 1.3, -Math.PI / 2, 3);
      case DIAMOND -> polygon(x, y, r * 1.35, 0, 4);
    };
  }

  private static String polygon(double x, double y, double r, double turn, int corners) {
    StringBuilder d = new StringBuilder();
    for (int i = 0; i < corners; i++) {
      double a = turn + 2 * Math.PI * i / corners;
      d.append(i == 0 ? 'M' : 'L');
      d.append(Pen.px(x + r * Math.cos(a))).append(' ').append(Pen.px(y + r * Math.sin(a)));
    }
    return d.append('Z').toString();
  }

  void curve(List<Corner> corners, Look look) {
    String d = Thinning.path(corners, c -> px(c.x()), c -> corner(c.x(), c.y()));
    if (!d.isEmpty()) {
      pen.path(d, Pen.Stroke.of(look));
    }
  }

  void dash(double x, double y, Look look) {
    pen.line(x, y, x + SAMPLE_PX, y, Pen.Stroke.of(look));
  }

  void patch(double x, double y) {
    pen.shade(flat(x, x + SAMPLE_PX, y - 5) + "V" + Pen.px(y + 5) + "H" + Pen.px(x) + "Z");
  }

  void band(List<Edges> edges) {
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
    pen.shade(d.append('Z').toString());
  }

  /** A place in the frame, as a path writes it. */
  String corner(double x, double y) {
    return Pen.px(clampX(x)) + " " + Pen.px(clampY(y));
  }

  void level(String label, double at) {
    double y = py(at);
    pen.line(frame.left(), y, frame.right(), y, Pen.Stroke.MARK);
    labels.besides(label, y);
  }

  void upright(UprightLine mark) {
    double x = px(mark.x());
    if (mark.halfX() > 0) {
      double low = clampX(mark.x() - mark.halfX());
      double high = clampX(mark.x() + mark.halfX());
      pen.shade(
          flat(low, high, frame.top()) + "V" + Pen.px(frame.bottom()) + "H" + Pen.px(low) + "Z");
    }
    pen.line(x, labels.foot(mark), x, frame.bottom(), Pen.Stroke.MARK);
    labels.above(mark, pen);
  }
}
