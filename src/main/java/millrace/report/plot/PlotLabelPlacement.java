// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * Placement of the labels of lines, apart from each other and from the data. Labels of vertical
 * lines are in rows above the frame, labels of levels in the right margin.
 *
 * <p>A vertical line in the left half has its label to its right; a line in the right half has it
 * to its left. If labels would touch, the label of the line nearer to the edge of the picture moves
 * higher, so that no line crosses a label.
 */
final class PlotLabelPlacement {
  static final double ROW = 15;
  static final double GUTTER = 118;
  private static final double GAP = 6;
  static final double LINE = 13;

  /** The position of the label of a vertical line. */
  private record Flag(UprightLine mark, double x, double width, boolean toTheLeft) {
    double from() {
      return toTheLeft ? x - width - GAP : x;
    }

    double to() {
      return toTheLeft ? x : x + width + GAP;
    }

    boolean touches(Flag other) {
      return from() < other.to() && other.from() < to();
    }
  }

  private final Map<UprightLine, Flag> flags = new HashMap<>();
  private final Map<UprightLine, Integer> rows = new HashMap<>();
  private final double top;
  private final int height;
  private final SvgWriter svgWriter;
  private final PlotFrame frame;
  private double besidesFrom;

  private PlotLabelPlacement(List<Flag> placed, Map<UprightLine, Integer> rows, Place place) {
    placed.forEach(f -> flags.put(f.mark(), f));
    this.rows.putAll(rows);
    this.height = rows.values().stream().mapToInt(r -> r + 1).max().orElse(0);
    this.top = place.top();
    this.svgWriter = place.pen();
    this.frame = place.frame(top + height * ROW);
    this.besidesFrom = frame.top() - 4;
  }

  /**
   * The space for labels.
   *
   * @param top upper edge of the rows, px
   * @param left left edge of the frame, px
   * @param right right edge of the frame, px
   * @param bottom lower edge of the frame, px
   * @param pen writer of the labels
   */
  record Place(double top, double left, double right, double bottom, SvgWriter pen) {
    private PlotFrame frame(double upper) {
      return new PlotFrame(left, upper + 6, right, bottom);
    }
  }

  static PlotLabelPlacement of(List<UprightLine> lines, Axis.Drawn across, Place place) {
    List<Flag> left = new ArrayList<>();
    List<Flag> right = new ArrayList<>();
    for (UprightLine upright : lines) {
      double share = across.share(upright.x());
      double x = place.left() + share * (place.right() - place.left());
      double width = TextWidths.width(upright.label(), SvgWriter.SMALL);
      (share > 0.5 ? right : left).add(new Flag(upright, x, width, share > 0.5));
    }
    right.sort(Comparator.comparingDouble(Flag::x));
    left.sort(Comparator.comparingDouble(Flag::x).reversed());
    Map<UprightLine, Integer> rows = new HashMap<>();
    stack(left, List.of(), rows);
    stack(right, left, rows);
    left.addAll(right);
    return new PlotLabelPlacement(left, rows, place);
  }

  /** Puts each label into the lowest row above all labels that it would touch. */
  private static void stack(List<Flag> flags, List<Flag> below, Map<UprightLine, Integer> rows) {
    List<Flag> placed = new ArrayList<>(below);
    for (Flag flag : flags) {
      int row = 0;
      for (Flag other : placed) {
        if (flag.touches(other)) {
          row = Math.max(row, rows.get(other.mark()) + 1);
        }
      }
      rows.put(flag.mark(), row);
      placed.add(flag);
    }
  }

  PlotFrame frame() {
    return frame;
  }

  /** The upper end of a vertical line. */
  double foot(UprightLine mark) {
    return baseline(mark) - ROW + 5;
  }

  private double baseline(UprightLine mark) {
    return top + (height - rows.getOrDefault(mark, 0)) * ROW - 3;
  }

  void above(UprightLine mark, SvgWriter with) {
    Flag flag = flags.get(mark);
    if (flag != null) {
      SvgWriter.Anchor anchor = flag.toTheLeft() ? SvgWriter.Anchor.END : SvgWriter.Anchor.START;
      with.text(mark.label(), flag.x() + (flag.toTheLeft() ? -4 : 4), baseline(mark), anchor);
    }
  }

  /** Writes the label of a level in the right margin, below the earlier labels. */
  void besides(String label, double y) {
    if (label.isEmpty()) {
      return;
    }
    List<String> lines = TextWidths.wrapped(label, SvgWriter.SMALL, GUTTER - 12);
    double wanted = y - (lines.size() - 1) * LINE / 2 + 4;
    double first = Math.max(wanted, besidesFrom + LINE);
    double x = frame.right() + 10;
    for (int i = 0; i < lines.size(); i++) {
      svgWriter.text(lines.get(i), x, first + i * LINE, SvgWriter.Anchor.START);
    }
    double middle = first + (lines.size() - 1) * LINE / 2 - 4;
    svgWriter.line(frame.right(), y, x - 3, middle, SvgWriter.Stroke.LEADER);
    besidesFrom = first + (lines.size() - 1) * LINE;
  }
}
