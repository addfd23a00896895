// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import java.util.List;
import java.util.Optional;

/** Title of a plot, with its mandatory stamp at the right. */
final class TitleLines {
  private static final double LINE = 17;
  private static final double STAMP_SIZE = 11;
  private static final double STAMP_AIR = 5;

  private TitleLines() {}

  private static double stampWidth(Optional<String> stamp) {
    return stamp.map(s -> TextWidths.width(s, STAMP_SIZE) + 2 * STAMP_AIR).orElse(0.0);
  }

  private static List<String> lines(String title, Optional<String> stamp, double width) {
    double room = width - stampWidth(stamp) - 12;
    return TextWidths.wrapped(title, SvgWriter.LARGE * 1.08, room);
  }

  static double height(String title, Optional<String> stamp, double width) {
    return lines(title, stamp, width).size() * LINE + 8;
  }

  static void write(String title, Optional<String> stamp, double width, SvgWriter svgWriter) {
    List<String> lines = lines(title, stamp, width);
    for (int i = 0; i < lines.size(); i++) {
      svgWriter.bold(lines.get(i), 0, 15 + i * LINE);
    }
    stamp.ifPresent(s -> stamp(s, width - stampWidth(stamp), svgWriter, stampWidth(stamp)));
  }

  private static void stamp(String word, double left, SvgWriter svgWriter, double width) {
    svgWriter
        .out()
        .lone(
            "rect",
            "x",
            SvgWriter.px(left),
            "y",
            "0.75",
            "width",
            SvgWriter.px(width - 1),
            "height",
            "19",
            "fill",
            "#000000")
        .element(
            "text",
            word,
            "x",
            SvgWriter.px(left + width / 2),
            "y",
            "14.5",
            "text-anchor",
            "middle",
            "font-size",
            SvgWriter.px(STAMP_SIZE),
            "font-weight",
            "bold",
            "fill",
            "#ffffff",
            "class",
            "stamp");
  }
}
