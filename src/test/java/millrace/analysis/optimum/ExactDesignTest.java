// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.optimum;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.stream.IntStream;
import millrace.analysis.optimum.ExactDesign.Criterion;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.LUDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Against optimal designs as textbooks have them: Atkinson, Donev and Tobias, Optimum Experimental
 * Designs, with SAS (2007), chapters 2, 9 and 10; Kiefer and Wolfowitz, Canad. J. Math. 12 (1960)
 * 363 (all from memory).
 */
class ExactDesignTest {
  /** Regressors 1, x, ..., x^degree at even places from -1 to 1. */
  private static double[][] polynomial(int degree, int places) {
    double[][] f = new double[places][degree + 1];
    for (int i = 0; i < places; i++) {
      double x = -1 + 2.0 * i / (places - 1);
      for (int k = 0; k <= degree; k++) {
        f[i][k] = Math.pow(x, k);
      }
    }
    return f;
  }

  /** Variance of one coefficient. */
  private static Criterion variance(int coefficient) {
    return m -> new LUDecomposition(m).getSolver().getInverse().getEntry(coefficient, coefficient);
  }

  private static RealMatrix information(double[][] f, int[] counts) {
    RealMatrix m = new Array2DRowRealMatrix(f[0].length, f[0].length);
    for (int i = 0; i < f.length; i++) {
      RealVector v = new ArrayRealVector(f[i]);
      m = m.add(v.outerProduct(v).scalarMultiply(counts[i]));
    }
    return m;
  }

  @ParameterizedTest
  @CsvSource({"2", "6", "10", "20"})
  void theSlopeOfALineWantsHalfOfTheReadingsAtEachEnd(int n) {
    int[] counts = ExactDesign.of(polynomial(1, 21), n, variance(1));
    assertEquals(n / 2, counts[0]);
    assertEquals(n / 2, counts[20]);
  }

  @ParameterizedTest
  @CsvSource({"4", "8", "12"})
  void theBendOfAParabolaWantsAQuarterAHalfAndAQuarter(int n) {
    int[] counts = ExactDesign.of(polynomial(2, 21), n, variance(2));
    assertEquals(n / 4, counts[0]);
    assertEquals(n / 2, counts[10]);
    assertEquals(n / 4, counts[20]);
  }

  @Test
  void allOfAParabolaWantsAThirdAtEachEndAndInTheMiddle() {
    int[] counts = ExactDesign.of(polynomial(2, 21), 9, Criterion.D);
    assertArrayEquals(new int[] {3, 3, 3}, new int[] {counts[0], counts[10], counts[20]});
  }

  /**
   * The equivalence theorem: a design is D-optimal where and only where the variance of prediction,
   * times the number of readings, is nowhere above the number of coefficients.
   */
  @ParameterizedTest
  @CsvSource({"1, 8", "2, 9", "3, 12"})
  void noPredictionOfADOptimalDesignIsWorseThanTheNumberOfCoefficients(int degree, int n) {
    // degree 3: the ends and -+1/sqrt(5) = -+0.447, so that the places have to be close
    double[][] f = polynomial(degree, 401);
    int[] counts = ExactDesign.of(f, n, Criterion.D);
    RealMatrix inverse = new LUDecomposition(information(f, counts)).getSolver().getInverse();
    double worst =
        Arrays.stream(f)
            .mapToDouble(
                row ->
                    new ArrayRealVector(row).dotProduct(inverse.operate(new ArrayRealVector(row))))
            .max()
            .orElseThrow();
    assertEquals(degree + 1, worst * n, 0.01 * (degree + 1));
  }

  /** Every way of putting five readings at seven places. */
  @ParameterizedTest
  @CsvSource({"1, 0", "1, 1", "2, 1", "2, 2", "3, 3"})
  void nothingIsBetterThanAnExhaustiveSearchByMoreThanAFewPercent(int degree, int coefficient) {
    double[][] f = polynomial(degree, 7);
    Criterion criterion = variance(coefficient);
    double found = criterion.loss(information(f, ExactDesign.of(f, 5, criterion)));
    double[] best = {Double.POSITIVE_INFINITY};
    every(f, new int[7], 0, 5, criterion, best);
    assertTrue(found <= best[0] * 1.05, found + " against " + best[0]);
  }

  private static void every(
      double[][] f, int[] counts, int place, int left, Criterion criterion, double[] best) {
    if (place == counts.length - 1) {
      counts[place] = left;
      RealMatrix m = information(f, counts);
      if (Math.abs(new LUDecomposition(m).getDeterminant()) > 1e-9) {
        best[0] = Math.min(best[0], criterion.loss(m));
      }
      return;
    }
    IntStream.rangeClosed(0, left)
        .forEach(
            n -> {
              counts[place] = n;
              every(f, counts, place + 1, left - n, criterion, best);
            });
  }

  @Test
  void fewerReadingsThanCoefficientsAreRefused() {
    assertThrows(
        IllegalArgumentException.class, () -> ExactDesign.of(polynomial(2, 9), 2, Criterion.D));
  }
}
