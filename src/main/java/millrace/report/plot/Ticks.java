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
 * Numbers along an axis. A linear axis has multiples of 1, 2 or 5 times a power of ten, printed
 * exactly; a logarithmic axis has the decades, and 2 and 5 between them if there are few decades.
 */
final class Ticks {
  private static final int MOST_DECADES = 8;
  private static final double SLACK = 1e-9;

  /** Factor from a step to the point where the next larger step is nearer. */
  private static final double MIDDLE = Math.sqrt(2);

  private Ticks() {}

  /**
   * Ticks of a linear axis.
   *
   * @param span span of the axis, in base units
   * @param unitSize size of the printed unit in base units, above 0
   * @param wanted approximate number of intervals; 4 or more give at least two ticks
   * @return ticks in rising order, all inside the span
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

  /** Moves a tick back to the end of the span if rounding carried it beyond. */
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
   * Ticks of a logarithmic axis, each with its own prefix.
   *
   * @param span span of the axis, above 0
   * @param dimension kind of the quantity; time is in seconds, since minutes and hours do not form
   *     decades
   * @return ticks in rising order, all inside the span
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
