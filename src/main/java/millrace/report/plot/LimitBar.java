// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import java.util.OptionalDouble;
import millrace.report.markup.Markup;

/**
 * Picture of a value with its uncertainty against its limits, one line high. The allowed interval
 * is shaded and ends in strokes; an interval that leaves the picture ends in an arrow.
 *
 * <p>Between two limits the scale is linear. For a single limit the scale is the logarithm of 1 +
 * d/U, with d the distance from the limit, since only U gives that distance a scale. Its ticks are
 * at 1, 10, 100 and 1000 U inside.
 *
 * <p>Immutable value type, thread-safe; all numbers in one unit.
 *
 * @param value the value, or a bound
 * @param low lower end of the interval of the value, minus infinity for a bound below
 * @param high upper end of the interval of the value, infinity for a bound above
 * @param lowerLimit lower limit; empty if open; at least one limit is present
 * @param upperLimit upper limit; empty if open
 */
public record LimitBar(
    double value, double low, double high, OptionalDouble lowerLimit, OptionalDouble upperLimit) {
  private static final double WIDTH = 150;
  private static final double HEIGHT = 18;
  private static final double MIDDLE = HEIGHT / 2;
  private static final double NEAR_LOW = 0.22;
  private static final double NEAR_HIGH = 0.78;
  private static final double EDGE = 5;

  /** Share of the picture for the decades of distance from a single limit. */
  private static final double WAY = 0.7;

  private static final int DECADES = 3;

  /** Checks that there is a limit to show. */
  public LimitBar {
    if (!Double.isFinite(value) || !(low <= value && value <= high)) {
      throw new IllegalArgumentException(
          "a value of %s in an interval from %s to %s".formatted(value, low, high));
    }
    if (lowerLimit.isEmpty() && upperLimit.isEmpty()) {
      throw new IllegalArgumentException("a limit has a lower or an upper side");
    }
  }

  private double share(double x) {
    if (lowerLimit.isPresent() && upperLimit.isPresent()) {
      double from = lowerLimit.getAsDouble();
      double width = upperLimit.getAsDouble() - from;
      return NEAR_LOW + (x - from) / width * (NEAR_HIGH - NEAR_LOW);
    }
    double distance = lowerLimit.isPresent() ? x - limit() : limit() - x;
    double way =
        WAY * Math.signum(distance) * Math.log10(1 + Math.abs(distance) / step()) / DECADES;
    return lowerLimit.isPresent() ? NEAR_LOW + way : NEAR_HIGH - way;
  }

  private double limit() {
    return lowerLimit.isPresent() ? lowerLimit.getAsDouble() : upperLimit.orElseThrow();
  }

  /** U towards the limit, the unit of the distance from a single limit. */
  private double step() {
    double u = lowerLimit.isPresent() ? value - low : high - value;
    double size = Math.max(Math.abs(value - limit()), Double.MIN_NORMAL);
    return u > 0 && Double.isFinite(u) ? u : size;
  }

  private double px(double x) {
    double at = share(x) * WIDTH;
    return Math.max(EDGE, Math.min(WIDTH - EDGE, at));
  }

  private boolean off(double x) {
    double at = share(x) * WIDTH;
    return !(at >= EDGE && at <= WIDTH - EDGE);
  }

  /**
   * Writes the picture.
   *
   * @param out the page
   * @param spoken the content in words
   */
  public void write(Markup out, String spoken) {
    SvgWriter svgWriter = new SvgWriter(out);
    out.open(
        "svg",
        "viewBox",
        "0 0 " + SvgWriter.px(WIDTH) + " " + SvgWriter.px(HEIGHT),
        "width",
        SvgWriter.px(WIDTH),
        "height",
        SvgWriter.px(HEIGHT),
        "role",
        "img",
        "aria-label",
        spoken);
    allowed(svgWriter);
    interval(svgWriter);
    out.close();
  }

  private void allowed(SvgWriter svgWriter) {
    double from = lowerLimit.isPresent() ? px(lowerLimit.getAsDouble()) : 0;
    double to = upperLimit.isPresent() ? px(upperLimit.getAsDouble()) : WIDTH;
    svgWriter.shade(box(from, to));
    lowerLimit.ifPresent(l -> svgWriter.line(from, 1, from, HEIGHT - 1, SvgWriter.Stroke.FRAME));
    upperLimit.ifPresent(l -> svgWriter.line(to, 1, to, HEIGHT - 1, SvgWriter.Stroke.FRAME));
    if (lowerLimit.isEmpty() || upperLimit.isEmpty()) {
      double sign = lowerLimit.isPresent() ? 1 : -1;
      for (int decade = 0; decade <= DECADES; decade++) {
        double x = px(limit() + sign * step() * Math.pow(10, decade));
        svgWriter.line(x, HEIGHT - 6, x, HEIGHT - 3, SvgWriter.Stroke.LEADER);
      }
    }
  }

  private static String box(double from, double to) {
    return "M"
        + SvgWriter.px(from)
        + " 3H"
        + SvgWriter.px(to)
        + "V"
        + SvgWriter.px(HEIGHT - 3)
        + "H"
        + SvgWriter.px(from)
        + "Z";
  }

  private void interval(SvgWriter svgWriter) {
    if (off(low) && off(high) && px(low) == px(high)) {
      end(svgWriter, value, px(value) > WIDTH / 2 ? 1 : -1);
      return;
    }
    svgWriter.line(
        px(low), MIDDLE, px(high), MIDDLE, new SvgWriter.Stroke(SvgWriter.TEXT, 1.6, ""));
    end(svgWriter, low, -1);
    end(svgWriter, high, 1);
    if (!off(value)) {
      svgWriter.shape(Canvas.circle(px(value), MIDDLE), SeriesStyle.FIRST, "spot");
    }
  }

  /** Draws a cap if the interval ends in the picture, otherwise an arrow head. */
  private void end(SvgWriter svgWriter, double x, int sign) {
    double at = px(x);
    double back = at - sign * EDGE;
    if (off(x)) {
      String tip = SvgWriter.px(at) + " " + SvgWriter.px(MIDDLE);
      svgWriter.path(
          "M"
              + SvgWriter.px(back)
              + " "
              + SvgWriter.px(MIDDLE - 4)
              + "L"
              + tip
              + "L"
              + SvgWriter.px(back)
              + " "
              + SvgWriter.px(MIDDLE + 4),
          new SvgWriter.Stroke(SvgWriter.TEXT, 1.6, ""));
    } else {
      svgWriter.line(at, MIDDLE - 4, at, MIDDLE + 4, new SvgWriter.Stroke(SvgWriter.TEXT, 1.2, ""));
    }
  }
}
