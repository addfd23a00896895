// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import java.util.List;

/**
 * Style of a series. Each style has its own marker, dash pattern and ink, so that any one of the
 * three identifies the series. The inks are the darker ones of the set of Okabe and Ito (Color
 * Universal Design, 2008), which also differ in greyscale.
 */
public enum SeriesStyle {
  /** Filled circles, full line, black. */
  FIRST(Shape.CIRCLE, true, "", "#000000"),
  /** Hollow squares, dashed line, blue. */
  SECOND(Shape.SQUARE, false, "7 3", "#0072b2"),
  /** Filled triangles, dotted line, vermilion. */
  THIRD(Shape.TRIANGLE, true, "2 3", "#d55e00"),
  /** Hollow diamonds, dash-dotted line, green. */
  FOURTH(Shape.DIAMOND, false, "8 3 2 3", "#00745a"),
  /** Hollow circles, long dashes, brown. */
  FIFTH(Shape.CIRCLE, false, "12 4", "#6b4a00"),
  /** Filled squares, dash and two dots, purple. */
  SIXTH(Shape.SQUARE, true, "8 3 2 3 2 3", "#8c3a72"),
  /** Hollow triangles, hardly broken line, grey; for a series in the background. */
  BEHIND(Shape.TRIANGLE, false, "40 1", "#999999");

  /** The outline of a marker. */
  enum Shape {
    CIRCLE,
    SQUARE,
    TRIANGLE,
    DIAMOND
  }

  private static final List<SeriesStyle> SERIES =
      List.of(FIRST, SECOND, THIRD, FOURTH, FIFTH, SIXTH);

  private final Shape shape;
  private final boolean filled;
  private final String dash;
  private final String ink;

  SeriesStyle(Shape shape, boolean filled, String dash, String ink) {
    this.shape = shape;
    this.filled = filled;
    this.dash = dash;
    this.ink = ink;
  }

  /**
   * The style of the n-th series; the six styles repeat.
   *
   * @param n from 0
   * @return the style
   */
  public static SeriesStyle nth(int n) {
    return SERIES.get(Math.floorMod(n, SERIES.size()));
  }

  /** Whether its marker is a filled circle. */
  boolean isDot() {
    return shape == Shape.CIRCLE && filled;
  }

  Shape shape() {
    return shape;
  }

  String fill() {
    return filled ? ink : "#ffffff";
  }

  String dash() {
    return dash;
  }

  String ink() {
    return ink;
  }
}
