// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import static org.junit.jupiter.api.Assertions.assertEquals;

import millrace.sim.truth.Kinds;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.sim.truth.SimulatedFlickerNoise;
import millrace.sim.truth.SimulatedUnitSpec;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;

/**
 * Noise against its statistics. Standard deviations of n values scatter by 1/sqrt(2 n); tolerances
 * are five times that.
 */
class NoiseTest {
  private static final int N = 4000;
  private static final double FIVE = 5 / Math.sqrt(2.0 * N);

  private static double rmsOfReadings(Rig rig, double cycles) {
    Rig.say(rig.ammeter, "CURR:RANG 2E-3");
    Rig.say(rig.ammeter, "CURR:NPLC " + cycles);
    double sum = 0;
    double squares = 0;
    for (int i = 0; i < N; i++) {
      double x = Rig.number(rig.ammeter, "READ?") - 1e-3;
      sum += x;
      squares += x * x;
    }
    return Math.sqrt((squares - sum * sum / N) / (N - 1));
  }

  private static Rig rig(SimulatedBenchSpec.MeterSpec ammeter, SimulatedUnitSpec.Noise noise) {
    SimulatedUnitSpec unit = Kinds.with(Kinds.of(Kinds.ideal("1mA", 5, 5e3)), noise);
    SimulatedBenchSpec spec = Kinds.perfectBench().with(ammeter);
    return new Rig(spec, unit).live("1mA", 1000);
  }

  @Test
  void whiteNoiseOfTheSourceFallsAsTheSquareRootOfTheIntegrationTime() {
    SimulatedUnitSpec.Noise noise = new SimulatedUnitSpec.Noise(2e-6, 0);
    Rig rig = rig(Kinds.perfectBench().ammeter(), noise);
    assertEquals(2e-9, rmsOfReadings(rig, 50), FIVE * 2e-9);
    assertEquals(2e-9 * Math.sqrt(50), rmsOfReadings(rig, 1), FIVE * 2e-9 * Math.sqrt(50));
  }

  @Test
  void noiseOfTheMeterIsThatOfOneCycleOverTheSquareRootOfCycles() {
    SimulatedBenchSpec.MeterSpec perfect = Kinds.perfectBench().ammeter();
    SimulatedBenchSpec.MeterSpec noisy =
        new SimulatedBenchSpec.MeterSpec(
            perfect.fullScales(), 0, 0, 0, perfect.resistanceOhm(), 0, 3e-6, 1e-12, 0);
    Rig rig = rig(noisy, new SimulatedUnitSpec.Noise(0, 0));
    assertEquals(6e-9, rmsOfReadings(rig, 1), FIVE * 6e-9);
    assertEquals(6e-10, rmsOfReadings(rig, 100), FIVE * 6e-10);
  }

  @Test
  void slowNoiseHasItsPowerInEveryDecadeOfTime() {
    double rms = 1e-6;
    SimulatedFlickerNoise flicker = new SimulatedFlickerNoise(rms, new Seeds(3).stream("flicker"));
    double squares = 0;
    double steps = 0;
    double last = flicker.at(0);
    for (int i = 1; i <= N; i++) {
      double x = flicker.at(i * 1e5);
      squares += x * x;
      double next = flicker.at(i * 1e5 + 0.01);
      steps += (next - x) * (next - x);
      last = next;
    }
    assertEquals(Math.sqrt(5) * rms, Math.sqrt(squares / N), FIVE * 3 * rms, "all five decades");
    double expected = rms * Math.sqrt(2 * (1 - Math.exp(-0.01)) * 1.111);
    assertEquals(expected, Math.sqrt(steps / N), 0.1 * expected, "little in a hundredth second");
    assertEquals(last, last + 0, 0);
  }

  @Test
  void theSlowNoiseDoesNotFallWithMoreReadings() {
    SimulatedUnitSpec.Noise slow = new SimulatedUnitSpec.Noise(0, 1e-6);
    Rig rig = rig(Kinds.perfectBench().ammeter(), slow);
    double short1 = rmsOfReadings(rig, 1);
    double long100 = rmsOfReadings(rig, 100);
    org.junit.jupiter.api.Assertions.assertTrue(
        long100 > 0.5 * short1, long100 + " against " + short1);
  }
}
