// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.linearity;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.List;
import java.util.function.BiFunction;
import java.util.random.RandomGenerator;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class LinearityDeviationTest {
  private static final double[] X = {0, 1, 2, 3, 4};
  private static final double[] Y = {0, 1, 4, 9, 16};

  @Test
  void theParabolaHasTheDeviationsOfItsChords() {
    // x^2 on 0..4: minimax half of 4, chord 4, best chord through 0: s t - t^2 over 1..4
    assertEquals(2, LinearityDeviation.independent(X, Y).largest(), 1e-15);
    assertEquals(4, LinearityDeviation.independent(X, Y).slope(), 1e-15);
    assertEquals(4, LinearityDeviation.terminal(X, Y).largest(), 1e-15);
    // the line s = (4 + 16)/(2 + 4) leaves 2 s - 4 = 16 - 4 s = 8/3
    assertEquals(8.0 / 3, LinearityDeviation.zeroBased(X, Y).largest(), 1e-14);
    // least squares: y = -2 + 4 x, residuals 2 -1 -2 -1 2
    assertEquals(2, LinearityDeviation.leastSquares(X, Y).largest(), 1e-14);
  }

  static Stream<Data> cases() {
    return LongStream.range(0, 60)
        .mapToObj(
            seed -> {
              RandomGenerator chance = new Seeds(seed).stream("linearity");
              int n = 3 + chance.nextInt(20);
              double[] x = new double[n];
              double[] y = new double[n];
              for (int i = 0; i < n; i++) {
                x[i] = (i == 0 ? 0 : x[i - 1]) + 0.05 + chance.nextDouble();
                y[i] = seed % 3 == 0 ? x[i] * x[i] : chance.nextGaussian() + 2 * x[i];
              }
              return new Data(x, y);
            });
  }

  /** Points in rising order. */
  private static final class Data {
    private final double[] x;
    private final double[] y;

    Data(double[] x, double[] y) {
      this.x = x;
      this.y = y;
    }
  }

  private static double largest(double[] x, double[] y, double intercept, double slope) {
    double most = 0;
    for (int i = 0; i < x.length; i++) {
      most = Math.max(most, Math.abs(y[i] - intercept - slope * x[i]));
    }
    return most;
  }

  @ParameterizedTest
  @MethodSource("cases")
  void theLineLeavesJustTheLargestDeviation(Data data) {
    for (BiFunction<double[], double[], LinearityDeviation> way :
        List.<BiFunction<double[], double[], LinearityDeviation>>of(
            LinearityDeviation::independent,
            LinearityDeviation::terminal,
            LinearityDeviation::zeroBased,
            LinearityDeviation::leastSquares)) {
      LinearityDeviation d = way.apply(data.x, data.y);
      assertEquals(largest(data.x, data.y, d.intercept(), d.slope()), d.largest(), 1e-12);
      double linear = 0;
      for (int i = 0; i < data.x.length; i++) {
        linear += d.weights()[i] * data.y[i];
      }
      assertEquals(d.largest(), linear, 1e-12);
      assertEquals(0, Arrays.stream(d.weights()).sum(), 1e-12);
    }
  }

  @ParameterizedTest
  @MethodSource("cases")
  void noOtherLineDoesBetter(Data data) {
    LinearityDeviation best = LinearityDeviation.independent(data.x, data.y);
    LinearityDeviation first = LinearityDeviation.zeroBased(data.x, data.y);
    RandomGenerator chance = new Seeds(5).stream("lines");
    double x0 = data.x[0];
    for (int k = 0; k < 2000; k++) {
      double scale = Math.pow(10, -4 * chance.nextDouble());
      double slope = best.slope() + scale * chance.nextGaussian();
      double intercept = best.intercept() + scale * chance.nextGaussian();
      assertTrue(largest(data.x, data.y, intercept, slope) >= best.largest() - 1e-12);
      double other = first.slope() + scale * chance.nextGaussian();
      assertTrue(largest(data.x, data.y, data.y[0] - other * x0, other) >= first.largest() - 1e-12);
    }
  }
}
