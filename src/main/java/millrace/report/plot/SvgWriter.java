// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import millrace.quantity.NumberText;
import millrace.report.markup.Markup;

/** Writer of the few SVG elements of a plot; coordinates in px, two decimals. */
final class SvgWriter {
  static final double SMALL = 11.5;
  static final double LARGE = 13.5;
  static final String FACE = "'Liberation Sans', Arial, Helvetica, 'DejaVu Sans', sans-serif";
  static final String TEXT = "#000000";
  static final String FAINT = "#dcdcdc";
  static final String STRONG = "#333333";

  private static final double OUTLINE = 1.3;

  private final Markup out;

  SvgWriter(Markup out) {
    this.out = out;
  }

  static String px(double value) {
    String fixed = NumberText.fixed(value, 2);
    return fixed.endsWith(".00") ? fixed.substring(0, fixed.length() - 3) : fixed;
  }

  Markup out() {
    return out;
  }

  /** Opens a picture; the caller closes it. */
  void open(String id, String title, String description, double width, double height) {
    out.line()
        .open(
            "svg",
            "viewBox",
            "0 0 " + px(width) + " " + px(height),
            "width",
            px(width),
            "height",
            px(height),
            "role",
            "img",
            "aria-labelledby",
            id + "-title " + id + "-description",
            "font-family",
            FACE)
        .element("title", title, "id", id + "-title")
        .element("desc", description, "id", id + "-description");
  }

  /** The position of a text relative to its anchor point. */
  enum Anchor {
    START("start"),
    MIDDLE("middle"),
    END("end");

    private final String word;

    Anchor(String word) {
      this.word = word;
    }
  }

  void text(String words, double x, double y, Anchor anchor) {
    out.element(
        "text",
        words,
        "x",
        px(x),
        "y",
        px(y),
        "text-anchor",
        anchor.word,
        "font-size",
        px(SMALL),
        "fill",
        TEXT);
  }

  void bold(String words, double x, double y) {
    out.element(
        "text",
        words,
        "x",
        px(x),
        "y",
        px(y),
        "font-size",
        px(LARGE),
        "font-weight",
        "bold",
        "fill",
        TEXT);
  }

  /** Writes words along a vertical axis, from bottom to top. */
  void rising(String words, double x, double y) {
    out.element(
        "text",
        words,
        "transform",
        "translate(" + px(x) + "," + px(y) + ") rotate(-90)",
        "text-anchor",
        "middle",
        "font-size",
        px(SMALL),
        "fill",
        TEXT);
  }

  /** A stroke. */
  record Stroke(String ink, double width, String dash) {
    static final Stroke GRID = new Stroke(FAINT, 0.7, "");
    static final Stroke FRAME = new Stroke(STRONG, 1, "");
    static final Stroke MARK = new Stroke(TEXT, 1.2, "5 3");
    static final Stroke LEADER = new Stroke(STRONG, 0.6, "");

    static Stroke of(SeriesStyle seriesStyle) {
      return new Stroke(seriesStyle.ink(), 1.4, seriesStyle.dash());
    }

    static Stroke full(SeriesStyle seriesStyle) {
      return new Stroke(seriesStyle.ink(), 1.1, "");
    }
  }

  void line(double x1, double y1, double x2, double y2, Stroke stroke) {
    path("M" + px(x1) + " " + px(y1) + "L" + px(x2) + " " + px(y2), stroke);
  }

  void path(String d, Stroke stroke) {
    String width = px(stroke.width());
    if (stroke.dash().isEmpty()) {
      out.lone("path", "d", d, "fill", "none", "stroke", stroke.ink(), "stroke-width", width);
    } else {
      out.lone(
          "path",
          "d",
          d,
          "fill",
          "none",
          "stroke",
          stroke.ink(),
          "stroke-width",
          width,
          "stroke-dasharray",
          stroke.dash());
    }
  }

  void shade(String d) {
    out.lone("path", "d", d, "fill", "#b9c6d2", "fill-opacity", "0.6", "stroke", "none");
  }

  /** Draws the outline of a part of a circuit, filled or hollow. */
  void symbol(String d, boolean filled) {
    out.lone(
        "path", "d", d, "fill", filled ? TEXT : "#ffffff", "stroke", TEXT, "stroke-width", px(1.3));
  }

  /** Takes away what lies under a line. */
  void blank(String d) {
    path(d, new Stroke("#ffffff", 3, ""));
  }

  /** Filled circles with their outline, each a line without length and with round ends. */
  void dots(String d, double width, SeriesStyle seriesStyle) {
    out.lone(
        "path",
        "class",
        "spots",
        "d",
        d,
        "fill",
        "none",
        "stroke",
        seriesStyle.ink(),
        "stroke-width",
        px(width + OUTLINE),
        "stroke-linecap",
        "round");
  }

  void shape(String d, SeriesStyle seriesStyle, String kind) {
    out.lone(
        "path",
        "class",
        kind,
        "d",
        d,
        "fill",
        seriesStyle.fill(),
        "stroke",
        seriesStyle.ink(),
        "stroke-width",
        "1.3");
  }
}
