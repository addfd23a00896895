// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;

/**
 * Chooses the numbers along an axis: multiples of 1, 2 or 5 times a power of ten, printed exactly;
 * on a logarithmic axis the decades, with 2 and 5 between them where there are few.
 */
final class Ticks {
  private static final int MOST_DECADES = 8;
  private static final double SLACK = 1e-9;

  /** From which multiple of a step on the next larger one is nearer. */
  private static final double MIDDLE = Math.sqrt(2);

  private Ticks() {}

  /**
   * Ticks of a linear axis.
   *
   * @param span what the axis shows, in base units
   * @param unitSize how many base units one of the printed unit is, above 0
   * @param wanted about how many intervals, 4 or more for at least two ticks
   * @return in rising order, all inside the span
   */
  static List<Tick> linear(AxisSpan span, double unitSize, int wanted) {
    double low = span.low() / unitSize;
    double high = span.high() / unitSize;
    BigDecimal step = step((high - low) / wanted);
    double size = step.doubleValue();
    long first = (long) Math.ceil(low / size - SLACK);
    long last = (long) Math.floor(high / size + SLACK);
    List<Tick> ticks = new ArrayList<>();
    for (long i = first; i <= last; i++) {
      BigDecimal count = step.multiply(BigDecimal.valueOf(i));
      double value = clamp(count.doubleValue() * unitSize, span);
      ticks.add(new Tick(value, label(count)));
    }
    return ticks;
  }

  /** A tick that rounding carried over the end stands at the end. */
  private static double clamp(double value, AxisSpan span) {
    return Math.max(span.low(), Math.min(span.high(), value));
  }

  private static BigDecimal step(double raw) {
    int exponent = NumberText.decade(raw);
    BigDecimal decade = BigDecimal.ONE.scaleByPowerOfTen(exponent);
    double mantissa = raw / decade.doubleValue();
    for (int m : new int[] {1, 2, 5}) {
      if (mantissa < MIDDLE * m) {
        return decade.multiply(BigDecimal.valueOf(m));
      }
    }
    return decade.scaleByPowerOfTen(1);
  }

  private static String label(BigDecimal count) {
    if (count.signum() == 0) {
      return "0";
    }
    BigDecimal plain = count.scale() < 0 ? count.setScale(0, RoundingMode.UNNECESSARY) : count;
    return plain.toPlainString().replace('-', '\u2212');
  }

  /**
   * Ticks of a logarithmic axis, each labelled with its own prefix.
   *
   * @param span what the axis shows, above 0
   * @param dimension what is shown; spans of time are counted in seconds, since minutes and hours
   *     make no decades
   * @return in rising order, all inside the span
   */
  static List<Tick> logarithmic(AxisSpan span, Dimension dimension) {
    int first = (int) Math.ceil(Math.log10(span.low()) - SLACK);
    int last = (int) Math.floor(Math.log10(span.high()) + SLACK);
    int decades = last - first;
    int stride = Math.max(1, (decades + MOST_DECADES) / MOST_DECADES);
    List<Tick> ticks = new ArrayList<>();
    for (int e = first - 1; e <= last; e++) {
      for (int m = 1; m <= 9; m++) {
        double value = BigDecimal.valueOf(m).scaleByPowerOfTen(e).doubleValue();
        boolean named = m == 1 ? Math.floorMod(e - first, stride) == 0 : named(m, decades);
        if (span.holds(value)) {
          ticks.add(new Tick(value, named ? PrintedUnitSymbols.of(print(value, dimension)) : ""));
        }
      }
    }
    return ticks;
  }

  private static boolean named(int m, int decades) {
    return decades <= 2 && (m == 2 || m == 5);
  }

  private static String print(double value, Dimension dimension) {
    return dimension == Dimension.TIME && value >= 1
        ? NumberText.print(value) + " s"
        : QuantityText.print(value, dimension);
  }
}
