// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import java.util.List;

/**
 * Turns a line of many corners into a path of few: where several fall on one half pixel across, the
 * first, the highest, the lowest and the last are kept, so that the picture stays the same.
 */
final class Thinning {
  private static final int FEW = 1500;

  private Thinning() {}

  static String path(List<Mark.Corner> corners, Canvas canvas) {
    StringBuilder d = new StringBuilder();
    boolean thin = corners.size() > FEW;
    int i = 0;
    while (i < corners.size()) {
      int end = thin ? sameColumn(corners, i, canvas) : i + 1;
      column(d, corners.subList(i, end), canvas);
      i = end;
    }
    return d.toString();
  }

  private static int sameColumn(List<Mark.Corner> corners, int from, Canvas canvas) {
    long column = column(corners.get(from), canvas);
    int i = from + 1;
    while (i < corners.size() && column(corners.get(i), canvas) == column) {
      i++;
    }
    return i;
  }

  private static long column(Mark.Corner corner, Canvas canvas) {
    return Math.round(2 * canvas.px(corner.x()));
  }

  private static void column(StringBuilder d, List<Mark.Corner> together, Canvas canvas) {
    append(d, together.get(0), canvas);
    if (together.size() > 3) {
      int low = 0;
      int high = 0;
      for (int i = 1; i < together.size(); i++) {
        low = together.get(i).y() < together.get(low).y() ? i : low;
        high = together.get(i).y() > together.get(high).y() ? i : high;
      }
      append(d, together.get(Math.min(low, high)), canvas);
      append(d, together.get(Math.max(low, high)), canvas);
    } else {
      together.subList(1, together.size()).forEach(c -> append(d, c, canvas));
      return;
    }
    append(d, together.get(together.size() - 1), canvas);
  }

  private static void append(StringBuilder d, Mark.Corner c, Canvas canvas) {
    d.append(d.length() == 0 ? 'M' : 'L').append(canvas.corner(c.x(), c.y()));
  }
}
