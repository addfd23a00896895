// SPDX-License-Identifier: Apache-2.0
package millrace.run.soak;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.settling.SoakJudge.Sample;
import org.junit.jupiter.api.Test;

class StuckChamberTest {
  /** A chamber that goes from 23 degC at 1 K/min and stops where it stops; a look a minute. */
  private static List<Sample> going(double stopsDegC, int minutes, boolean asked) {
    List<Sample> samples = new ArrayList<>();
    for (int i = 0; i <= minutes; i++) {
      double degC = Math.min(23.0 + i, stopsDegC);
      OptionalDouble air = asked ? OptionalDouble.of(degC) : OptionalDouble.empty();
      samples.add(new Sample(60.0 * i, degC, air, OptionalDouble.empty()));
    }
    return samples;
  }

  @Test
  void saysHowFarItIsShortOfItsSetPoint() {
    assertEquals(
        Optional.of("the chamber stands still at 37.5 degC, 2.5 K short of its set point"),
        StuckChamber.words(going(37.5, 40, true), 40));
  }

  @Test
  void saysHowFarItWentBeyond() {
    assertEquals(
        Optional.of("the chamber stands still at 42.0 degC, 2.0 K beyond its set point"),
        StuckChamber.words(going(42, 60, true), 40));
  }

  @Test
  void namesTheUnitWhereTheChamberIsNotAsked() {
    assertEquals(
        Optional.of("the unit stands still at 37.5 degC, 2.5 K short of its set point"),
        StuckChamber.words(going(37.5, 40, false), 40));
  }

  @Test
  void isSilentWhileItMovesAndWhereItIsNearEnough() {
    assertEquals(Optional.empty(), StuckChamber.words(going(60, 12, true), 40));
    assertEquals(Optional.empty(), StuckChamber.words(going(37.5, 20, true), 40));
    assertEquals(Optional.empty(), StuckChamber.words(going(39.5, 60, true), 40));
    assertEquals(Optional.empty(), StuckChamber.words(List.of(), 40));
  }
}
