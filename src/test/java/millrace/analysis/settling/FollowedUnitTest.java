// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.settling;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import millrace.analysis.settling.SoakJudge.Finding;
import millrace.analysis.settling.SoakJudge.Left;
import millrace.analysis.settling.SoakJudge.Question;
import millrace.analysis.settling.SoakJudge.Sample;
import millrace.analysis.settling.SoakJudge.State;
import millrace.time.Seeds;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * A unit that follows the air of a chamber with a ramp and an overshoot, which no single
 * exponential describes. Source: the differential equation itself, stepped second by second, with
 * thermometers that differ by 0.4 K.
 */
class FollowedUnitTest {
  private static final double SET_DEGC = 50;
  private static final double SLOPE = 2e-6;
  private static final double ABOVE_AIR_K = 0.4;
  private static final double NOISE = 0.8e-6;
  private static final int EVERY_S = 15;

  private final List<Sample> samples = new ArrayList<>();
  private double unitDegC = 23;
  private double insideDegC = 23;
  private double laggedDegC = 23;
  private int t;

  /** The chamber trails its ramp by 4 min and overshoots by some 3 K. */
  private double airDegC() {
    double rampEnd = 60 * 27 / 2.0;
    double since = Math.max(0, t - rampEnd) / 240;
    return laggedDegC + 11 * since * Math.exp(-since);
  }

  private void look(double tauS, double innerS, SplittableRandom random) {
    for (int i = 0; i < EVERY_S; i++, t++) {
      laggedDegC += (Math.min(SET_DEGC, 23 + t / 30.0) - laggedDegC) / 240;
      unitDegC += (airDegC() + ABOVE_AIR_K - unitDegC) / tauS;
      insideDegC += innerS == 0 ? 0 : (unitDegC - insideDegC) / innerS;
    }
    double seen = innerS == 0 ? unitDegC : insideDegC;
    double relative = 1 + SLOPE * (seen - 23) + NOISE * (random.nextDouble(-1.7, 1.7));
    samples.add(
        new Sample(
            t,
            seen + 0.004 * random.nextDouble(-1.7, 1.7),
            OptionalDouble.of(airDegC() + 0.01 * random.nextDouble(-1.7, 1.7)),
            samples.size() % 5 == 0 ? OptionalDouble.of(relative) : OptionalDouble.empty()));
  }

  @ParameterizedTest
  @CsvSource({"720, 720, 0", "720, 480, 0", "480, 720, 0", "600, 600, 120"})
  void whatIsLeftIsToldWhileTheOvershootStillLasts(double tauS, double statedS, double innerS) {
    SplittableRandom random = new Seeds(1).stream("looks");
    Question question = new Question(2e-6, Double.POSITIVE_INFINITY, statedS, SET_DEGC, 1);
    Finding found = SoakJudge.look(samples, question);
    while (found.state() != State.OVER && t < 3 * 3600) {
      look(tauS, innerS, random);
      found = SoakJudge.look(samples, question);
    }
    double seen = innerS == 0 ? unitDegC : insideDegC;
    double missing = Math.abs(SLOPE * (seen - SET_DEGC - ABOVE_AIR_K));
    assertEquals(State.OVER, found.state());
    assertTrue(missing < 2e-6, "left are " + missing);
    assertTrue(missing <= found.leftRatio().orElseThrow(), missing + " beyond " + found);
    if (innerS == 0) {
      Left left = found.left().orElseThrow();
      assertEquals(SLOPE * (seen - SET_DEGC - ABOVE_AIR_K), left.ratio(), 3 * left.u());
      assertEquals(tauS, found.tauS(), 0.05 * tauS);
    }
  }
}
