package millrace.run;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.evidence.Signal;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;

class NeighboursTest {
  private final SplittableRandom random = new Seeds(11).stream("neighbours");

  private static Reading reading(double value) {
    return new Reading(
        Signal.CURRENT,
        "ammeter",
        ReadingState.NUMBER,
        OptionalDouble.of(value),
        OptionalDouble.empty(),
        "",
        Instant.EPOCH,
        Duration.ZERO);
  }

  private List<Reading> noisy(int n) {
    List<Reading> readings = new ArrayList<>();
    for (int i = 0; i < n; i++) {
      readings.add(reading(1e-3 * (1 + 1e-6 * random.nextGaussian())));
    }
    return readings;
  }

  @Test
  void singlesOutAReadingThatIsFarOffOnceTheScatterIsKnown() {
    Neighbours neighbours = new Neighbours();
    for (int point = 0; point < 5; point++) {
      neighbours.learn(noisy(10), Signal.CURRENT, "1mA");
    }
    List<Reading> readings = noisy(10);
    readings.set(4, reading(1e-3 * (1 + 12e-6)));
    assertEquals(List.of(4), neighbours.off(readings, Signal.CURRENT, "1mA"));
  }

  @Test
  void singlesOutAGrosslyWrongReadingOfTheFirstPoint() {
    List<Reading> readings = noisy(10);
    readings.set(0, reading(1.1e-3));
    assertEquals(List.of(0), new Neighbours().off(readings, Signal.CURRENT, "1mA"));
  }

  /** Near 0 V a meter's last digit is all that moves: as a bench showed it, in volt. */
  @Test
  void leavesReadingsAloneOfWhichMostAreEqual() {
    List<Reading> readings = new ArrayList<>();
    for (double v : new double[] {16.6, 15.2, 15.2, 15.2, 16.9, 16.5, 15.1, 15.2}) {
      readings.add(reading(v * 1e-6));
    }
    assertEquals(List.of(), new Neighbours().off(readings, Signal.CURRENT, "1mA"));
  }

  @Test
  void leavesHonestNoiseAlone() {
    Neighbours neighbours = new Neighbours();
    int off = 0;
    for (int point = 0; point < 2000; point++) {
      List<Reading> readings = noisy(10);
      off += neighbours.off(readings, Signal.CURRENT, "1mA").size();
      neighbours.learn(readings, Signal.CURRENT, "1mA");
    }
    assertEquals(0, off);
  }

  @Test
  void singlesNothingOutWhereThePointAsAWholeIsUnsteady() {
    Neighbours neighbours = new Neighbours();
    for (int point = 0; point < 5; point++) {
      neighbours.learn(noisy(10), Signal.CURRENT, "1mA");
    }
    List<Reading> readings = new ArrayList<>();
    for (int i = 0; i < 10; i++) {
      readings.add(reading(1e-3 * (1 + 50e-6 * random.nextGaussian())));
    }
    assertEquals(List.of(), neighbours.off(readings, Signal.CURRENT, "1mA"));
  }
}
