// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.variance;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.linear.LUDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.RealVector;
import org.junit.jupiter.api.Test;

class VarianceComponentsTest {
  private static final double COVERAGE = 0.95;
  private static final Path GAUGE =
      Path.of("src/test/resources/millrace/reference/grr/msa4_10x3x3.csv");

  private static double variance(VarianceComponents.Component c) {
    return c.sd() * c.sd();
  }

  /**
   * Measurement Systems Analysis, 4th edition: 10 parts, 3 appraisers, 3 trials. The components
   * without interaction, as R's lme4 (REML) computed them; see the file beside the data.
   */
  @Test
  void agreesWithAPublishedGaugeStudy() throws IOException {
    List<String> rows = Files.readAllLines(GAUGE);
    double[] values = new double[rows.size() - 1];
    int[] part = new int[values.length];
    int[] appraiser = new int[values.length];
    for (int i = 0; i < values.length; i++) {
      String[] cells = rows.get(i + 1).split(",", -1);
      part[i] = Integer.parseInt(cells[0]) - 1;
      appraiser[i] = cells[1].charAt(0) - 'A';
      values[i] = Double.parseDouble(cells[3]);
    }
    VarianceComponents found =
        VarianceComponents.of(values, List.of(part, appraiser), COVERAGE).orElseThrow();
    assertEquals(1.08644660441068, variance(found.factors().get(0)), 1e-5);
    assertEquals(0.0514552611585945, variance(found.factors().get(1)), 1e-6);
    assertEquals(0.0399732763532763, variance(found.residual()), 1e-6);
    assertEquals(Arrays.stream(values).average().orElseThrow(), found.mean(), 1e-9);
    for (VarianceComponents.Component c : found.factors()) {
      assertTrue(c.lower() < c.sd() && c.sd() < c.upper(), c.toString());
    }
  }

  /**
   * In balanced groups, restricted likelihood gives the components of the analysis of variance, as
   * long as none of them is below 0 (Searle, Casella and McCulloch, Variance Components, 1992, 3.8
   * and 4.8; from memory): (MSA - MSE)/n and MSE. To nearly all digits of a double.
   */
  @Test
  void balancedGroupsGiveTheComponentsOfTheAnalysisOfVarianceToTheLastDigits() {
    Random random = new Random(19);
    for (int again = 0; again < 20; again++) {
      int groups = 4 + again;
      int each = 5 + 3 * again;
      double[] values = new double[groups * each];
      int[] levels = new int[values.length];
      double[] means = new double[groups];
      for (int g = 0; g < groups; g++) {
        double shift = random.nextGaussian();
        for (int j = 0; j < each; j++) {
          levels[g * each + j] = g;
          values[g * each + j] = 1e-3 + 1e-8 * (shift + random.nextGaussian());
          means[g] += values[g * each + j] / each;
        }
      }
      double within = 0;
      for (int i = 0; i < values.length; i++) {
        within += Math.pow(values[i] - means[levels[i]], 2);
      }
      double mean = Arrays.stream(means).average().orElseThrow();
      double between = Arrays.stream(means).map(m -> Math.pow(m - mean, 2)).sum() * each;
      double mse = within / (groups * (each - 1.0));
      double component = (between / (groups - 1.0) - mse) / each;
      assertTrue(component > 0);
      VarianceComponents found =
          VarianceComponents.of(values, List.of(levels), COVERAGE).orElseThrow();
      assertEquals(1, found.factors().get(0).sd() / Math.sqrt(component), 1e-10);
      assertEquals(1, found.residual().sd() / Math.sqrt(mse), 1e-10);
    }
  }

  /** Values with two factors, one nested within the other, of groups of different size. */
  private record Nested(double[] values, List<int[]> levels) {
    static Nested of(Random random) {
      List<Double> values = new ArrayList<>();
      List<int[]> rows = new ArrayList<>();
      int inner = 0;
      for (int outer = 0; outer < 5; outer++) {
        double a = 3 * random.nextGaussian();
        for (int k = 0; k < 2 + outer % 3; k++, inner++) {
          double b = 2 * random.nextGaussian();
          for (int j = 0; j < 3 + (outer + k) % 4; j++) {
            values.add(50 + a + b + random.nextGaussian());
            rows.add(new int[] {outer, inner});
          }
        }
      }
      return new Nested(
          values.stream().mapToDouble(Double::doubleValue).toArray(),
          List.of(
              rows.stream().mapToInt(r -> r[0]).toArray(),
              rows.stream().mapToInt(r -> r[1]).toArray()));
    }
  }

  /**
   * The restricted likelihood from its definition, by the covariance matrix of all values: log|V| +
   * log|1'V^-1 1| + (y - m)'V^-1 (y - m) + (n - 1) log 2 pi.
   */
  private static double byDefinition(double[] values, List<int[]> levels, double[] sd) {
    int n = values.length;
    RealMatrix v = new Array2DRowRealMatrix(n, n);
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        double sum = i == j ? sd[sd.length - 1] * sd[sd.length - 1] : 0;
        for (int f = 0; f < levels.size(); f++) {
          sum += levels.get(f)[i] == levels.get(f)[j] ? sd[f] * sd[f] : 0;
        }
        v.setEntry(i, j, sum);
      }
    }
    LUDecomposition lu = new LUDecomposition(v);
    RealMatrix inverse = lu.getSolver().getInverse();
    RealVector ones = new ArrayRealVector(n, 1);
    RealVector y = new ArrayRealVector(values);
    double information = ones.dotProduct(inverse.operate(ones));
    double mean = ones.dotProduct(inverse.operate(y)) / information;
    RealVector rest = y.subtract(ones.mapMultiply(mean));
    return Math.log(lu.getDeterminant())
        + Math.log(information)
        + rest.dotProduct(inverse.operate(rest))
        + (n - 1) * Math.log(2 * Math.PI);
  }

  /**
   * For nested groups of different size: nothing near lies higher, and intervals end where stated.
   */
  @Test
  void isTheGreatestLikelihoodByItsDefinition() {
    Nested data = Nested.of(new Random(4));
    VarianceComponents found =
        VarianceComponents.of(data.values(), data.levels(), COVERAGE).orElseThrow();
    double[] sd = {found.factors().get(0).sd(), found.factors().get(1).sd(), found.residual().sd()};
    double least = byDefinition(data.values(), data.levels(), sd);
    for (int c = 0; c < sd.length; c++) {
      for (double factor : new double[] {0.99, 1.01}) {
        double[] other = sd.clone();
        other[c] *= factor;
        assertTrue(byDefinition(data.values(), data.levels(), other) > least, c + " " + factor);
      }
    }
    // With one standard deviation at an end of its interval the best of the others lies 3.84
    // higher.
    double[] atEnd = sd.clone();
    atEnd[2] = found.residual().upper();
    double best = Double.POSITIVE_INFINITY;
    for (double a = 0.7; a <= 1.3; a += 0.01) {
      for (double b = 0.8; b <= 1.2; b += 0.01) {
        best =
            Math.min(
                best,
                byDefinition(
                    data.values(), data.levels(), new double[] {a * sd[0], b * sd[1], atEnd[2]}));
      }
    }
    assertEquals(3.841, best - least, 0.01);
  }

  @Test
  void findsNothingWhereAFactorDoesNothing() {
    Random random = new Random(9);
    double[] values = random.doubles(60).toArray();
    int[] factor = new int[60];
    for (int i = 0; i < factor.length; i++) {
      factor[i] = i % 6;
    }
    VarianceComponents found =
        VarianceComponents.of(values, List.of(factor), COVERAGE).orElseThrow();
    VarianceComponents.Component none = found.factors().get(0);
    assertEquals(0, none.lower());
    assertTrue(none.upper() > none.sd() && none.upper() < 0.5, none.toString());
    assertEquals(1 / Math.sqrt(12), found.residual().sd(), 0.04);
  }

  @Test
  void isEmptyWhereNothingIsLeftOverFromValueToValue() {
    int[] factor = {0, 0, 1, 1, 2, 2};
    double[] values = {1, 1, 2, 2, 5, 5};
    assertTrue(VarianceComponents.of(values, List.of(factor), COVERAGE).isEmpty());
  }

  /** Intervals of 95 % hold the truth as often as they say, with eight levels of five values. */
  @Test
  void intervalsHoldTheTruth() {
    Random random = new Random(17);
    int[] factor = new int[40];
    Arrays.setAll(factor, i -> i / 5);
    int held = 0;
    int trials = 300;
    for (int trial = 0; trial < trials; trial++) {
      double[] values = new double[40];
      double level = 0;
      for (int i = 0; i < values.length; i++) {
        level = i % 5 == 0 ? random.nextGaussian() : level;
        values[i] = level + random.nextGaussian();
      }
      VarianceComponents.Component c =
          VarianceComponents.of(values, List.of(factor), COVERAGE).orElseThrow().factors().get(0);
      held += c.lower() <= 1 && 1 <= c.upper() ? 1 : 0;
    }
    assertEquals(COVERAGE, (double) held / trials, 0.035);
  }

  /** A factor that does nothing beside one that does: exactly nothing, not what a search left. */
  @Test
  void aFactorThatBringsNothingIsZero() {
    int[] strong = {0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2};
    int[] none = {0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1};
    double[] values = {1, 1.2, 0.9, 0.7, 5, 5.1, 5.2, 5.1, 9, 8.8, 9.1, 9.3};
    VarianceComponents found =
        VarianceComponents.of(values, List.of(strong, none), COVERAGE).orElseThrow();
    assertTrue(found.factors().get(0).sd() > 3, found.toString());
    assertEquals(0, found.factors().get(1).sd());
    assertEquals(0, found.factors().get(1).lower());
  }

  /** The unit of the values and a constant do not matter. */
  @Test
  void isTheSameInAnyUnit() {
    Nested data = Nested.of(new Random(4));
    double[] tiny = Arrays.stream(data.values()).map(v -> 1e-9 * v + 1).toArray();
    VarianceComponents a =
        VarianceComponents.of(data.values(), data.levels(), COVERAGE).orElseThrow();
    VarianceComponents b = VarianceComponents.of(tiny, data.levels(), COVERAGE).orElseThrow();
    for (int f = 0; f < 2; f++) {
      assertEquals(a.factors().get(f).sd(), 1e9 * b.factors().get(f).sd(), 1e-3);
      assertEquals(a.factors().get(f).upper(), 1e9 * b.factors().get(f).upper(), 1e-2);
    }
  }
}
