// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.math.BigDecimal;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The numbers along an axis are where they say they are. */
class TicksTest {
  private static final double[] UNIT_SIZES = {1, 1e-3, 1e-6, 1e-9, 1e3, 60, 3600};

  static IntStream seeds() {
    return IntStream.range(0, 400);
  }

  private static AxisSpan anySpan(SplittableRandom chance) {
    double width = Math.pow(10, chance.nextDouble(-12, 9));
    double middle = chance.nextBoolean() ? 0 : width * Math.pow(10, chance.nextDouble(-2, 5));
    double sign = chance.nextBoolean() ? 1 : -1;
    return AxisSpan.around(sign * middle - width / 2, sign * middle + width / 2);
  }

  private static BigDecimal printed(Tick tick) {
    return new BigDecimal(tick.label().replace('\u2212', '-'));
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void labelsSayWhereTheTicksAre(int seed) {
    SplittableRandom chance = new Seeds(seed).stream("plot");
    AxisSpan span = anySpan(chance);
    double size = UNIT_SIZES[chance.nextInt(UNIT_SIZES.length)];
    double slack = 1e-8 * (span.high() - span.low());
    for (Tick tick : notEmpty(Ticks.linear(span, size, chance.nextInt(4, 12)))) {
      assertTrue(span.holds(tick.value()));
      assertEquals(printed(tick).doubleValue() * size, tick.value(), slack);
    }
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void ticksAreEquallySpacedByOneTwoOrFive(int seed) {
    SplittableRandom chance = new Seeds(seed).stream("plot");
    int wanted = chance.nextInt(4, 12);
    List<Tick> ticks =
        Ticks.linear(anySpan(chance), UNIT_SIZES[chance.nextInt(UNIT_SIZES.length)], wanted);
    assertTrue(ticks.size() >= 2 && ticks.size() <= 2 * wanted + 1, ticks::toString);
    BigDecimal step = printed(ticks.get(1)).subtract(printed(ticks.get(0)));
    for (int i = 1; i < ticks.size(); i++) {
      BigDecimal next = printed(ticks.get(i)).subtract(printed(ticks.get(i - 1)));
      assertEquals(0, step.compareTo(next), ticks::toString);
    }
    String digit = step.stripTrailingZeros().unscaledValue().toString();
    assertTrue(List.of("1", "2", "5").contains(digit), step::toString);
  }

  @Test
  void anOrdinaryAxisLooksOrdinary() {
    assertEquals(
        List.of("\u22121.0", "\u22120.5", "0", "0.5", "1.0"),
        Ticks.linear(new AxisSpan(-1.1e-3, 1.1e-3), 1e-3, 5).stream().map(Tick::label).toList());
  }

  @Test
  void decadesCarryTheirOwnPrefix() {
    assertEquals(
        List.of("1 k\u03a9", "10 k\u03a9", "100 k\u03a9", "1 M\u03a9"),
        labelled(Ticks.logarithmic(new AxisSpan(600, 2e6), Dimension.RESISTANCE)));
  }

  @Test
  void fewDecadesAreDividedByTwoAndFive() {
    assertEquals(
        List.of("1 s", "2 s", "5 s", "10 s", "20 s", "50 s", "100 s"),
        labelled(Ticks.logarithmic(new AxisSpan(0.95, 110), Dimension.TIME)));
  }

  @Test
  void manyDecadesAreNotAllNumbered() {
    List<String> labels =
        labelled(Ticks.logarithmic(new AxisSpan(1e-9, 1e9), Dimension.RESISTANCE));
    assertTrue(labels.size() <= 9 && labels.size() >= 4, labels::toString);
  }

  private static List<String> labelled(List<Tick> ticks) {
    return ticks.stream().map(Tick::label).filter(l -> !l.isEmpty()).toList();
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void logarithmicLabelsReadBackAsTheirTicks(int seed) {
    SplittableRandom chance = new Seeds(seed).stream("plot");
    double low = Math.pow(10, chance.nextDouble(-9, 6));
    AxisSpan span = new AxisSpan(low, low * Math.pow(10, chance.nextDouble(0.1, 9)));
    for (Tick tick : notEmpty(Ticks.logarithmic(span, Dimension.RESISTANCE))) {
      assertTrue(span.holds(tick.value()));
      if (!tick.label().isEmpty()) {
        double read = QuantityText.parse(tick.label(), Dimension.RESISTANCE);
        assertEquals(tick.value(), read, 1e-12 * read);
      }
    }
  }

  @Test
  void symbolsAreSetAsInPrint() {
    assertEquals("4.7 k\u03a9", PrintedUnitSymbols.of("4.7 kohm"));
    assertEquals("100 \u00b5A", PrintedUnitSymbols.of("100 uA"));
    assertEquals("\u221210 \u00b0C", PrintedUnitSymbols.of("-10 degC"));
    assertEquals("ppm/K\u00b2", PrintedUnitSymbols.of("ppm/K2"));
    assertEquals("0.3 \u00b5V/K", PrintedUnitSymbols.of("0.3 uV/K"));
  }
}
