// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import java.util.List;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;

/**
 * Path with few corners from a line with many. Of the corners within half a pixel horizontally, the
 * path keeps the first, the highest, the lowest and the last, so that the picture stays the same.
 */
final class Thinning {
  private static final int FEW = 1500;

  private Thinning() {}

  /**
   * The path.
   *
   * @param corners of the line
   * @param px horizontal position of a corner, px
   * @param place a corner in SVG path syntax
   */
  static String path(
      List<PlotLinePoint> corners,
      ToDoubleFunction<PlotLinePoint> px,
      Function<PlotLinePoint, String> place) {
    StringBuilder d = new StringBuilder();
    boolean thin = corners.size() > FEW;
    int i = 0;
    while (i < corners.size()) {
      int end = thin ? sameColumn(corners, i, px) : i + 1;
      column(d, corners.subList(i, end), place);
      i = end;
    }
    return d.toString();
  }

  private static int sameColumn(
      List<PlotLinePoint> corners, int from, ToDoubleFunction<PlotLinePoint> px) {
    long column = column(corners.get(from), px);
    int i = from + 1;
    while (i < corners.size() && column(corners.get(i), px) == column) {
      i++;
    }
    return i;
  }

  private static long column(PlotLinePoint corner, ToDoubleFunction<PlotLinePoint> px) {
    return Math.round(2 * px.applyAsDouble(corner));
  }

  private static void column(
      StringBuilder d, List<PlotLinePoint> together, Function<PlotLinePoint, String> place) {
    append(d, together.get(0), place);
    if (together.size() > 3) {
      int low = 0;
      int high = 0;
      for (int i = 1; i < together.size(); i++) {
        low = together.get(i).y() < together.get(low).y() ? i : low;
        high = together.get(i).y() > together.get(high).y() ? i : high;
      }
      append(d, together.get(Math.min(low, high)), place);
      append(d, together.get(Math.max(low, high)), place);
    } else {
      together.subList(1, together.size()).forEach(c -> append(d, c, place));
      return;
    }
    append(d, together.get(together.size() - 1), place);
  }

  private static void append(
      StringBuilder d, PlotLinePoint c, Function<PlotLinePoint, String> place) {
    d.append(d.length() == 0 ? 'M' : 'L').append(place.apply(c));
  }
}
