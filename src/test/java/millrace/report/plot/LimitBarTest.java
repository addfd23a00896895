// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.StringWriter;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import millrace.report.markup.Markup;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** A limit bar shows on which side of its limits a value lies, and stays in its cell. */
class LimitBarTest {
  private static final OptionalDouble OPEN = OptionalDouble.empty();

  private static String svg(LimitBar bar) {
    StringWriter out = new StringWriter();
    Markup markup = Markup.to(out);
    bar.write(markup, "spoken");
    markup.end();
    return out.toString();
  }

  private static LimitBar bar(double value, double half, OptionalDouble low, OptionalDouble high) {
    return new LimitBar(value, value - half, value + half, low, high);
  }

  static IntStream seeds() {
    return IntStream.range(0, 200);
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void nothingIsDrawnOutsideTheCell(int seed) {
    SplittableRandom chance = new Seeds(seed).stream("bars");
    double size = Math.pow(10, chance.nextDouble(-6, 9));
    OptionalDouble low = chance.nextBoolean() ? OptionalDouble.of(-1) : OPEN;
    OptionalDouble high = low.isEmpty() ? OptionalDouble.of(2) : OPEN;
    String svg = svg(bar(size * chance.nextDouble(-1, 1), size * chance.nextDouble(), low, high));
    Matcher x = Pattern.compile("[MLH](-?[0-9.]+)").matcher(svg);
    while (x.find()) {
      double at = Double.parseDouble(x.group(1));
      assertTrue(at >= 0 && at <= 150, () -> at + " in " + svg);
    }
  }

  @Test
  void aValueInTheMiddleOfItsLimitsStandsInTheMiddle() {
    String svg = svg(bar(0, 0.1, OptionalDouble.of(-1), OptionalDouble.of(1)));
    assertTrue(svg.contains("M78.60 9L"), svg);
  }

  @Test
  void aValueFarOutIsAnArrowAndNoDot() {
    String svg = svg(bar(900, 1, OPEN, OptionalDouble.of(1)));
    assertEquals(-1, svg.indexOf("class=\"spot\""));
    assertTrue(svg.contains("M140 5L145 9L140 13"), svg);
  }

  @Test
  void aBoundReachesToTheEdge() {
    LimitBar above = new LimitBar(3, 3, Double.POSITIVE_INFINITY, OptionalDouble.of(1), OPEN);
    assertTrue(svg(above).contains("L145 9"), svg(above));
  }

  @Test
  void anIntervalThatDoesNotHoldItsValueIsRefused() {
    assertThrows(
        IllegalArgumentException.class, () -> new LimitBar(5, 6, 7, OPEN, OptionalDouble.of(1)));
    assertThrows(IllegalArgumentException.class, () -> new LimitBar(5, 4, 6, OPEN, OPEN));
  }
}
