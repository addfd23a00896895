// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ErrorDistribution;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class PooledNoiseTest {
  private static double[] series(SplittableRandom random, int n, double r, double s) {
    double[] x = new double[n];
    double state = random.nextGaussian();
    for (int i = 0; i < n; i++) {
      x[i] = 5 + s * state;
      state = r * state + Math.sqrt(1 - r * r) * random.nextGaussian();
    }
    return x;
  }

  private static List<ReadingStatistics> points(int count, int n, double r, double s) {
    SplittableRandom random = new Seeds(11).stream("readings " + r);
    List<ReadingStatistics> points = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      points.add(ReadingAccumulator.statisticsOf(series(random, n, r, s)));
    }
    return points;
  }

  @Test
  void tallyGivesMeanVarianceAndLaggedSum() {
    ReadingStatistics s = ReadingAccumulator.statisticsOf(1e6 + 1, 1e6 + 2, 1e6 + 4);
    double m = 7.0 / 3;
    assertEquals(1e6 + m, s.mean(), 1e-9);
    double squares = (1 - m) * (1 - m) + (2 - m) * (2 - m) + (4 - m) * (4 - m);
    assertEquals(squares, s.sumOfSquares(), 1e-12);
    assertEquals((1 - m) * (2 - m) + (2 - m) * (4 - m), s.laggedSum(), 1e-12);
    assertEquals(squares / 2, s.variance(), 1e-12);
  }

  @Test
  void factorIsTheSumOfItsDefinition() {
    double r = 0.4;
    int n = 10;
    double sum = 1;
    for (int k = 1; k < n; k++) {
      sum += 2 * (1 - (double) k / n) * Math.pow(r, k);
    }
    assertEquals(sum, Autocorrelation.factor(n, r), 1e-13);
  }

  /** Short points are where the bias of an ordinary estimate would be worst. */
  @ParameterizedTest
  @CsvSource({"0", "0.3", "0.6"})
  void findsTheCorrelationWithoutTheBiasOfShortPoints(double r) {
    assertEquals(r, Autocorrelation.pooled(points(4000, 10, r, 2)), 0.03);
  }

  @ParameterizedTest
  @CsvSource({"0", "0.3", "0.6"})
  void theUncertaintyOfAMeanIsItsScatter(double r) {
    List<ReadingStatistics> points = points(4000, 10, r, 2);
    double sum = 0;
    for (ReadingStatistics p : points) {
      sum += (p.mean() - 5) * (p.mean() - 5);
    }
    double scatter = Math.sqrt(sum / points.size());
    assertEquals(1, PooledNoise.of("1mA", points, 0).meanUncertainty(10) / scatter, 0.04);
  }

  @Test
  void takesNoCorrelationFromFewReadingsAndSaysSo() {
    PooledNoise noise = PooledNoise.of("1mA", points(5, 10, 0.6, 2), 0);
    assertEquals(45, noise.degreesOfFreedom());
    assertTrue(noise.notes().get(0).contains("50 readings, needs 100"));
  }

  @Test
  void aMeanIsNotBetterKnownThanTheResolutionAllows() {
    PooledNoise noise =
        PooledNoise.of("1mA", List.of(ReadingAccumulator.statisticsOf(5, 5, 5, 5)), 1e-3);
    Estimate mean = noise.mean(ReadingAccumulator.statisticsOf(5, 5, 5, 5), "p1", "A");
    assertEquals(1e-3 / Math.sqrt(12), mean.standardUncertainty(), 1e-12);
    assertEquals(ErrorDistribution.RECTANGULAR, Budget.of(mean).components().get(0).distribution());
  }

  @Test
  void aPointThatOscillatesIsLeftOutOfThePoolAndCarriesItsOwnScatter() {
    List<ReadingStatistics> points = points(20, 10, 0, 1);
    double before = PooledNoise.of("1mA", points, 0).standardDeviation();
    ReadingStatistics wild = ReadingAccumulator.statisticsOf(0, 10, 0, 10, 0, 10, 0, 10, 0, 10);
    points.add(wild);
    PooledNoise noise = PooledNoise.of("1mA", points, 0);
    assertEquals(before, noise.standardDeviation(), 1e-12);
    assertTrue(noise.unsteady(wild));
    assertFalse(noise.unsteady(points.get(0)));
    Estimate mean = noise.mean(wild, "wild", "A");
    assertTrue(mean.standardUncertainty() > 1.5);
    assertEquals(9, Budget.of(mean).degreesOfFreedom().orElseThrow(), 1e-9);
  }

  @Test
  void theScatterBetweenRepeatsIsAFloor() {
    PooledNoise noise =
        PooledNoise.of("1mA", points(20, 10, 0, 1), 0)
            .noLessThan(new PooledNoise.Floor(2, OptionalDouble.of(5), "scatter between repeats"));
    Estimate mean = noise.mean(ReadingAccumulator.statisticsOf(5, 6), "p", "A");
    assertEquals(2, mean.standardUncertainty(), 1e-12);
    assertEquals("scatter between repeats", Budget.of(mean).components().get(0).component());
  }

  @Test
  void oneReadingAPointLeavesNoiseUnknown() {
    PooledNoise noise = PooledNoise.of("1mA", List.of(ReadingAccumulator.statisticsOf(5)), 0);
    assertFalse(noise.mean(ReadingAccumulator.statisticsOf(5), "p", "A").hasUncertainty());
    assertTrue(noise.notes().contains("one reading a point: their noise is not known"));
  }
}
