// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import millrace.analysis.uncertainty.CorrelatedNoise;
import millrace.analysis.uncertainty.CorrelatedNoise.Carried;
import millrace.analysis.uncertainty.CorrelatedNoise.Use;
import org.junit.jupiter.api.Test;

class RunNoiseTest {
  private static final Map<String, Double> DIFFERENCE = Map.of("p0", -1.0, "p2", 1.0);

  /** Visits to T_ref, elsewhere, T_ref, ... of ten readings, a thousand intervals apart. */
  private static List<PointReadings> visits(int count, double[] noise) {
    List<PointReadings> visits = new ArrayList<>();
    for (int v = 0; v < count; v++) {
      double[] t = new double[10];
      double[] y = new double[10];
      for (int i = 0; i < 10; i++) {
        t[i] = 1000 * v + i;
        y[i] = noise[1000 * v + i];
      }
      visits.add(new PointReadings("p" + v, v, v % 2 == 0, "0 ohm", t, y));
    }
    return visits;
  }

  private static LongRecord record(int n) {
    return LongRecord.of(
        "the record of run 7",
        IntStream.range(0, n).asDoubleStream().toArray(),
        Noises.white(new Random(8), n));
  }

  private static CorrelatedNoise noise(int visits, Optional<LongRecord> record) {
    double[] white = Noises.white(new Random(9), 1000 * visits);
    return RunNoise.of(visits(visits, white), Set.of(), 1, record).shared();
  }

  private static Carried carried(CorrelatedNoise noise, Use use) {
    return noise.forUse(use).carried(DIFFERENCE).orElseThrow();
  }

  @Test
  void aRecordAsLongAsTheVisitsLieApartTellsTheLawAndIsNamed() {
    Carried found = carried(noise(5, Optional.of(record(5000))), Use.HYSTERESIS);
    assertTrue(found.known());
    assertEquals(List.of("noise law from the record of run 7"), found.notes());
    assertEquals(Math.sqrt(2.0 / 10), found.u(), 0.2);
  }

  @Test
  void aShorterRecordTellsNoHysteresis() {
    Carried found = carried(noise(5, Optional.of(record(3000))), Use.HYSTERESIS);
    assertFalse(found.known());
    assertTrue(found.notes().get(0).startsWith("hysteresis and slow noise together, no U"));
  }

  @Test
  void withoutARecordTheVisitsToTheReferenceTell() {
    CorrelatedNoise noise = noise(5, Optional.empty());
    assertEquals(List.of("noise from 3 visits to T_ref"), carried(noise, Use.VISITS).notes());
    assertTrue(carried(noise, Use.VISITS_AND_TIME).u() > carried(noise, Use.VISITS).u());
  }

  /** The same visits with a point each at a load where the current moves from visit to visit. */
  private static List<PointReadings> withMoving(List<PointReadings> visits) {
    List<PointReadings> all = new ArrayList<>(visits);
    for (PointReadings p : visits) {
      double[] t = Arrays.stream(p.timesS()).map(s -> s + 20).toArray();
      double[] y = Arrays.stream(p.values()).map(v -> v + 40 * Math.sin(p.visit())).toArray();
      all.add(new PointReadings("k" + p.visit(), p.visit(), p.reference(), "20 kohm", t, y));
    }
    return all;
  }

  @Test
  void whatMutePointsDifferByIsNoNoiseOfTheOthers() {
    List<PointReadings> visits = visits(5, Noises.white(new Random(9), 5000));
    List<PointReadings> all = withMoving(visits);
    Set<String> mute = Set.of("k0", "k1", "k2", "k3", "k4");
    double alone =
        carried(RunNoise.of(visits, Set.of(), 1, Optional.empty()).shared(), Use.VISITS).u();
    CorrelatedNoise deaf = RunNoise.of(all, mute, 1, Optional.empty()).shared();
    assertEquals(alone, carried(deaf, Use.VISITS).u(), 0.01 * alone);
    CorrelatedNoise heard = RunNoise.of(all, Set.of(), 1, Optional.empty()).shared();
    assertTrue(carried(heard, Use.VISITS).u() > 5 * alone);
    // they have the noise of the others all the same
    Map<String, Double> apart = Map.of("k0", -1.0, "k2", 1.0);
    assertEquals(alone, deaf.forUse(Use.VISITS).carried(apart).orElseThrow().u(), 0.1 * alone);
  }

  @Test
  void whereAllPointsAreMuteAllTell() {
    List<PointReadings> visits = visits(5, Noises.white(new Random(9), 5000));
    Set<String> mute = Set.of("p0", "p1", "p2", "p3", "p4");
    assertEquals(
        carried(RunNoise.of(visits, Set.of(), 1, Optional.empty()).shared(), Use.VISITS).u(),
        carried(RunNoise.of(visits, mute, 1, Optional.empty()).shared(), Use.VISITS).u());
  }

  @Test
  void fewReadingsSayThatNoRandomWalkWasLookedFor() {
    assertEquals(
        List.of("noise law from 30 readings, random walk not looked for"),
        carried(noise(3, Optional.empty()), Use.POINTS).notes());
  }

  @Test
  void aHundredReadingsTellTheirCorrelationThemselvesWhereThereIsNoRecord() {
    assertTrue(noise(10, Optional.empty()).carried(DIFFERENCE).isEmpty());
    assertTrue(noise(10, Optional.of(record(5000))).carried(DIFFERENCE).isPresent());
  }

  @Test
  void readingsPacedOtherwiseAreNotJoined() {
    LongRecord slow =
        LongRecord.of(
            "slow",
            IntStream.range(0, 6000).mapToDouble(i -> 1.2 * i).toArray(),
            Noises.white(new Random(8), 6000));
    assertFalse(carried(noise(5, Optional.of(slow)), Use.HYSTERESIS).known());
  }

  @Test
  void drawsScatterAsTheVarianceSays() {
    CorrelatedNoise noise = noise(5, Optional.of(record(5000)));
    CorrelatedNoise.Sampler sampler = noise.sampler(List.of("p2", "nobody's", "p0")).orElseThrow();
    SplittableRandom random = new SplittableRandom(10);
    double squares = 0;
    int trials = 4000;
    for (int i = 0; i < trials; i++) {
      double[] drawn = sampler.next(random);
      assertEquals(0, drawn[1]);
      double difference = drawn[0] - drawn[2];
      squares += difference * difference / trials;
    }
    double expected = noise.forUse(Use.VISITS).variance(DIFFERENCE).orElseThrow();
    assertEquals(1, squares / expected, 0.1);
  }
}
