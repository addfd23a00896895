// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.stream.IntStream;
import java.util.stream.LongStream;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The true errors of a bench against what they are drawn from. */
class BenchTruthTest {
  private static final SimulatedBenchSpec SPEC = SimulatedBenchSpec.demo();

  static LongStream seeds() {
    return LongStream.rangeClosed(1, 200);
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void everyErrorLiesInsideItsHalfWidth(long seed) {
    BenchTruth truth = BenchTruth.drawn(SPEC, new Seeds(seed));
    inside(SPEC.ammeter(), truth.ammeter());
    inside(SPEC.voltmeter(), truth.voltmeter());
    notEmpty(truth.load().decades()).forEach(d -> within(d, SPEC.load().ofReading()));
    assertTrue(truth.load().residualOhm() >= 0 && truth.load().residualOhm() <= 0.015);
    within(truth.chamberK(), 0.5);
    within(truth.unitThermometerK(), 0.08);
    within(truth.leadsOhm() / 0.15 - 1, 0.2);
  }

  private static void inside(SimulatedBenchSpec.MeterSpec spec, BenchTruth.MeterTruth truth) {
    for (int i = 0; i < truth.ranges().size(); i++) {
      BenchTruth.RangeTruth range = truth.ranges().get(i);
      within(range.gain(), spec.ofReading());
      within(range.offset() / range.fullScale(), spec.ofRange());
      within(range.bend() / range.fullScale(), spec.transfer());
      within(range.resistanceOhm() / spec.resistanceOhm().get(i) - 1, spec.resistance());
    }
  }

  private static void within(double error, double halfWidth) {
    assertTrue(Math.abs(error) <= halfWidth * (1 + 1e-9), error + " beyond " + halfWidth);
  }

  /** A rectangle of half-width a has the standard deviation a/sqrt(3) (JCGM 100:2008, 4.3.7). */
  @Test
  void gainsOfManyBenchesFillTheirRectangle() {
    double[] gains =
        LongStream.range(0, 3000)
            .mapToDouble(s -> BenchTruth.drawn(SPEC, new Seeds(s)).ammeter().ranges().get(2).gain())
            .toArray();
    double mean = IntStream.range(0, 3000).mapToDouble(i -> gains[i]).average().orElseThrow();
    double square =
        IntStream.range(0, 3000).mapToDouble(i -> gains[i] * gains[i]).average().orElseThrow();
    assertEquals(0, mean, 5 * 25e-6 / Math.sqrt(3 * 3000));
    assertEquals(25e-6 / Math.sqrt(3), Math.sqrt(square), 0.04 * 25e-6);
  }

  @Test
  void aBenchIsTheSameForTheSameSeedOnly() {
    assertEquals(BenchTruth.drawn(SPEC, new Seeds(1)), BenchTruth.drawn(SPEC, new Seeds(1)));
    assertNotEquals(BenchTruth.drawn(SPEC, new Seeds(1)), BenchTruth.drawn(SPEC, new Seeds(2)));
  }

  @Test
  void eachDecadeOfTheLoadAddsItsDigitWithItsOwnError() {
    List<Double> decades = new java.util.ArrayList<>(java.util.Collections.nCopies(12, 0.0));
    decades.set(6, 100e-6);
    decades.set(5, -50e-6);
    BenchTruth.LoadTruth load = new BenchTruth.LoadTruth(decades, 0.01);
    assertEquals(4000 * 1.0001 + 700 * 0.99995 + 0.01, load.actualOhm(4700), 1e-9);
    assertEquals(0.01, load.actualOhm(0), 1e-15);
    assertEquals(999.999 + 0.01 - 900 * 50e-6, load.actualOhm(999.999), 1e-9);
  }

  @Test
  void theBendIsLargestWhereItIsSaidToBe() {
    BenchTruth.RangeTruth range = new BenchTruth.RangeTruth(2, 0, 0, 1e-6, 1);
    assertEquals(1e-6, range.shown(2 / Math.sqrt(3)) - 2 / Math.sqrt(3), 1e-15);
    assertEquals(0, range.shown(2) - 2, 1e-15);
    assertEquals(0, range.shown(0), 0);
  }
}
