// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.reduction;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import millrace.analysis.reduction.PooledNoise.Floor;
import millrace.analysis.reduction.Repeatability.Repeat;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;

/** Scatter between repeats; truth by construction. */
class RepeatabilityTest {
  private static final double U = 0.3e-9;
  private static final double OWN = 200;

  /** Sweeps up and down at several stays: each point twice, with scatter between takes. */
  private static List<List<List<Repeat>>> sweeps(long seed, double between, double perS) {
    SplittableRandom random = new Seeds(seed).stream("repeats");
    List<List<List<Repeat>>> stays = new ArrayList<>();
    for (int stay = 0; stay < 6; stay++) {
      List<List<Repeat>> points = new ArrayList<>();
      for (int load = 0; load < 10; load++) {
        List<Repeat> takes = new ArrayList<>();
        for (double t : new double[] {10.0 * load, 200 - 10.0 * load}) {
          double noise = Math.hypot(U, between) * random.nextGaussian();
          takes.add(new Repeat(t, 1e-3 - 1e-9 * load + perS * t + noise, U));
        }
        points.add(takes);
      }
      stays.add(points);
    }
    return stays;
  }

  @Test
  void scatterBeyondThatOfReadingsIsFound() {
    Floor floor = Repeatability.floor(sweeps(3, 1e-9, 0), OWN).orElseThrow();
    // 54 degrees of freedom: the standard deviation is known to 10 %.
    assertEquals(Math.hypot(U, 1e-9), floor.u(), 0.3e-9);
    assertEquals(54, floor.degreesOfFreedom().orElseThrow(), 1e-9);
    assertEquals("scatter between repeats", floor.why());
  }

  /** Of one noise: the floor is another estimate of it, and both together are known the better. */
  @Test
  void whatReadingsExplainIsKnownAsWellAsBoth() {
    int alone = 0;
    double squares = 0;
    for (long seed = 0; seed < 400; seed++) {
      Floor floor = Repeatability.floor(sweeps(seed, 0, 0), OWN).orElseThrow();
      squares += floor.u() * floor.u() / 400;
      alone += floor.degreesOfFreedom().orElseThrow() < OWN ? 1 : 0;
    }
    assertEquals(U, Math.sqrt(squares), 0.03 * U);
    // The bound is one of 95 %.
    assertTrue(alone < 50, alone + " of 400");
  }

  @Test
  void anEvenDriftIsNoScatter() {
    double plain = Repeatability.floor(sweeps(5, 1e-9, 0), OWN).orElseThrow().u();
    assertEquals(plain, Repeatability.floor(sweeps(5, 1e-9, 1e-10), OWN).orElseThrow().u(), 1e-14);
  }

  @Test
  void nothingRepeatedTellsNothing() {
    List<List<Repeat>> once = List.of(List.of(new Repeat(0, 1, 0.1)));
    assertEquals(Optional.empty(), Repeatability.floor(List.of(once), OWN));
    assertEquals(Optional.empty(), Repeatability.floor(List.of(), OWN));
  }

  @Test
  void aMeanIsNotBetterKnownThanItsFloor() {
    PooledNoise noise =
        PooledNoise.of("pool", List.of(ReadingAccumulator.statisticsOf(1, 2, 3, 4, 5, 6, 7, 8)), 0);
    Floor floor = Repeatability.floor(sweeps(3, 1e-9, 0), OWN).orElseThrow();
    Floor high = new Floor(9, floor.degreesOfFreedom(), floor.why());
    assertEquals(9, noise.noLessThan(high).meanUncertainty(8));
    assertEquals(noise.meanUncertainty(8), noise.noLessThan(floor).meanUncertainty(8));
  }
}
