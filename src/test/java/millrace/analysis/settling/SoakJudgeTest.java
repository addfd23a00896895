// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.settling;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import millrace.analysis.settling.SoakJudge.Finding;
import millrace.analysis.settling.SoakJudge.Question;
import millrace.analysis.settling.SoakJudge.Sample;
import millrace.analysis.settling.SoakJudge.State;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Soaks of a simulated unit whose noise follows itself, judged as a run judges them. */
class SoakJudgeTest {
  private static final double EVERY_S = 10;
  private static final double STEP_K = 27;
  private static final double SLOPE_PPM_PER_K = 2;

  /** A unit with a thermal time constant in a chamber that lags by four minutes. */
  private static final class Soaked {
    private final SplittableRandom random;
    private final double tauS;
    private final double noisePpm;
    private final double r;
    private int ranges = 1;
    private double error;
    private final List<Sample> samples = new ArrayList<>();

    Soaked(long seed, double tauS, double noisePpm, double r) {
      this.random = new Seeds(seed).stream("soak");
      this.tauS = tauS;
      this.noisePpm = noisePpm;
      this.r = r;
    }

    /** One of so many ranges, whose turn at the meter comes with every so manieth look. */
    Soaked among(int others) {
      ranges = others;
      return this;
    }

    double missingK(double t) {
      double chamber = 240;
      return -STEP_K
          * (tauS * Math.exp(-t / tauS) - chamber * Math.exp(-t / chamber))
          / (tauS - chamber);
    }

    void sample() {
      double t = samples.size() * EVERY_S;
      error = r * error + Math.sqrt(1 - r * r) * noisePpm * gaussian();
      double ppm = SLOPE_PPM_PER_K * missingK(t) + error;
      double degC = 50 + missingK(t) + 0.005 * gaussian();
      boolean turn = samples.size() % ranges == 0;
      samples.add(
          new Sample(t, degC, turn ? OptionalDouble.of(1 + 1e-6 * ppm) : OptionalDouble.empty()));
    }

    private double gaussian() {
      double u = 1 - random.nextDouble();
      return Math.sqrt(-2 * Math.log(u)) * Math.cos(2 * Math.PI * random.nextDouble());
    }

    /** When two looks two minutes apart, and all between, say that it is over. */
    double overS(Question question) {
      int good = 0;
      while (samples.size() < 2000) {
        sample();
        good = SoakJudge.look(samples, question).state() == State.OVER ? good + 1 : 0;
        if (good > 120 / EVERY_S) {
          return samples.size() * EVERY_S;
        }
      }
      return Double.POSITIVE_INFINITY;
    }

    double leftPpm(double t, double measuringS) {
      return Math.abs(SLOPE_PPM_PER_K * (missingK(t) - missingK(t + measuringS)));
    }

    /** When what is left truly falls below what is asked. */
    double idealS(double ppm, double measuringS) {
      double t = 0;
      while (leftPpm(t, measuringS) > ppm || missingK(t) < -STEP_K / 2) {
        t += EVERY_S;
      }
      return t;
    }
  }

  private static Question question(double tauS) {
    return new Question(2e-6, 900, tauS, 50, 1);
  }

  @ParameterizedTest
  @CsvSource({"720, 720, 0.3, 0", "720, 720, 1, 0.5", "720, 500, 1, 0", "600, 900, 0.5, 0.8"})
  void whatIsLeftWhenASoakIsOverIsBelowWhatWasAsked(
      double tauS, double statedS, double noisePpm, double r) {
    int kept = 0;
    double late = 0;
    for (int seed = 0; seed < 60; seed++) {
      Soaked unit = new Soaked(seed, tauS, noisePpm, r);
      double over = unit.overS(question(statedS));
      kept += unit.leftPpm(over, 900) <= 2.0 ? 1 : 0;
      late += (over - unit.idealS(2, 900)) / 60;
    }
    assertTrue(kept >= 57, "kept " + kept + " of 60");
    assertTrue(late < 2 * tauS, "late by " + late + " s");
  }

  /** Six ranges take turns at the meter, so that two time constants hold fewer than eight looks. */
  @ParameterizedTest
  @CsvSource({"120, 120", "200, 200", "300, 200", "150, 250"})
  void aRangeWhoseTurnComesSeldomEndsItsSoakToo(double tauS, double statedS) {
    int kept = 0;
    double late = 0;
    for (int seed = 0; seed < 60; seed++) {
      Soaked unit = new Soaked(seed, tauS, 0.3, 0).among(12);
      double over = unit.overS(question(statedS));
      kept += unit.leftPpm(over, 900) <= 2.0 ? 1 : 0;
      late += (over - unit.idealS(2, 900)) / 60;
    }
    assertTrue(kept >= 57, "kept " + kept + " of 60");
    assertTrue(late < 600, "late by " + late + " s");
  }

  @Test
  void aSoakThatNoiseHidesIsWithinNoiseAfterFiveTimeConstants() {
    Soaked unit = new Soaked(1, 600, 40, 0.5);
    State last = State.NOT_YET;
    for (int i = 0; i < 500; i++) {
      unit.sample();
      last = SoakJudge.look(unit.samples, question(600)).state();
      if (i * EVERY_S < 3000) {
        assertTrue(last != State.WITHIN_NOISE);
      }
    }
    assertEquals(State.WITHIN_NOISE, last);
  }

  @Test
  void theTimeConstantComesFromTheUnitsTemperatureWhereTheStepIsLarge() {
    Soaked unit = new Soaked(2, 900, 0.5, 0);
    for (int i = 0; i < 400; i++) {
      unit.sample();
    }
    assertEquals(900, SoakJudge.look(unit.samples, question(600)).tauS(), 120);
  }

  @Test
  void tooFewSamplesAreNotYetAndTellNothing() {
    Soaked unit = new Soaked(3, 600, 0.5, 0);
    unit.sample();
    Finding finding = SoakJudge.look(unit.samples, question(600));
    assertEquals(State.NOT_YET, finding.state());
    assertEquals(OptionalDouble.empty(), finding.leftRatio());
    assertEquals(State.NOT_YET, SoakJudge.look(List.of(), question(600)).state());
  }

  @Test
  void samplesThatAllShareOneMomentTellNothing() {
    List<Sample> samples = new ArrayList<>();
    for (int i = 0; i < 20; i++) {
      samples.add(new Sample(100, 50, OptionalDouble.of(1 + 1e-6 * i)));
    }
    Finding finding = SoakJudge.look(samples, question(600));
    assertEquals(State.NOT_YET, finding.state());
    assertEquals(OptionalDouble.empty(), finding.leftRatio());
  }

  @Test
  void aUnitFarFromItsTemperatureIsNotYetHoweverFlatItsCurrent() {
    List<Sample> samples = new ArrayList<>();
    for (int i = 0; i < 200; i++) {
      samples.add(new Sample(10.0 * i, 30, OptionalDouble.of(1)));
    }
    assertEquals(State.NOT_YET, SoakJudge.look(samples, question(600)).state());
  }

  @Test
  void theProjectionComesTrue() {
    Soaked unit = new Soaked(4, 720, 0.1, 0);
    for (int i = 0; i < 200; i++) {
      unit.sample();
    }
    double projected = SoakJudge.look(unit.samples, question(720)).projectedS().orElseThrow();
    assertEquals(unit.idealS(2, 900), projected, 500);
  }
}
