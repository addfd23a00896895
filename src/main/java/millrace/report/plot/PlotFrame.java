// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

/**
 * Position of the frame of a plot in its picture, px.
 *
 * @param left its left edge
 * @param top its upper edge
 * @param right its right edge
 * @param bottom its lower edge
 */
record PlotFrame(double left, double top, double right, double bottom) {
  PlotFrame {
    if (!(right > left && bottom > top)) {
      throw new IllegalArgumentException("labels leave no room for the plot");
    }
  }

  double width() {
    return right - left;
  }

  double height() {
    return bottom - top;
  }

  double x(double share) {
    return left + share * width();
  }

  double y(double share) {
    return bottom - share * height();
  }
}
