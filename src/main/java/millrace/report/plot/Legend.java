// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import java.util.ArrayList;
import java.util.List;

/** Legend of a plot: a sample and a description of each mark, row by row below the title. */
final class Legend {
  private static final double ROW = 17;
  private static final double AIR = 16;

  /** A legend entry and its position. */
  private record Entry(Mark mark, String words, double x, int row) {}

  private final List<Entry> entries;

  private Legend(List<Entry> entries) {
    this.entries = entries;
  }

  static Legend of(List<Mark> marks, double widthPx) {
    List<Entry> entries = new ArrayList<>();
    double x = 0;
    int row = 0;
    for (Mark mark : marks) {
      String words = mark.legend().orElse("");
      double width = Canvas.SAMPLE_PX + 6 + TextWidths.width(words, SvgWriter.SMALL);
      if (!words.isEmpty()) {
        boolean full = x > 0 && x + width > widthPx;
        row += full ? 1 : 0;
        x = full ? 0 : x;
        entries.add(new Entry(mark, words, x, row));
        x += width + AIR;
      }
    }
    return new Legend(List.copyOf(entries));
  }

  double heightPx() {
    return entries.isEmpty() ? 0 : (entries.get(entries.size() - 1).row() + 1) * ROW;
  }

  void write(Canvas canvas, SvgWriter svgWriter, double top) {
    for (Entry e : entries) {
      double y = top + e.row() * ROW + 8;
      e.mark().sample(canvas, e.x(), y);
      svgWriter.text(e.words(), e.x() + Canvas.SAMPLE_PX + 6, y + 4, SvgWriter.Anchor.START);
    }
  }
}
