// SPDX-License-Identifier: Apache-2.0
package millrace.run.plausibility;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class ReadingOutliersTest {
  private static final ReadingOutliers.Way WAY =
      new ReadingOutliers.Way(MeasuredSignal.CURRENT, "1mA", 0);

  private final SplittableRandom random = new Seeds(11).stream("neighbours");

  private static Reading reading(double value) {
    return new Reading(
        MeasuredSignal.CURRENT,
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
    ReadingOutliers readingOutliers = new ReadingOutliers();
    for (int point = 0; point < 5; point++) {
      readingOutliers.learn(noisy(10), WAY);
    }
    List<Reading> readings = noisy(10);
    readings.set(4, reading(1e-3 * (1 + 12e-6)));
    assertEquals(List.of(4), readingOutliers.off(readings, WAY));
  }

  @Test
  void singlesOutAGrosslyWrongReadingOfTheFirstPoint() {
    List<Reading> readings = noisy(10);
    readings.set(0, reading(1.1e-3));
    assertEquals(List.of(0), new ReadingOutliers().off(readings, WAY));
  }

  /** Near 0 V a meter's last digit is all that moves: as a bench showed it, in volt. */
  @Test
  void leavesReadingsAloneOfWhichMostAreEqual() {
    List<Reading> readings = new ArrayList<>();
    for (double v : new double[] {16.6, 15.2, 15.2, 15.2, 16.9, 16.5, 15.1, 15.2}) {
      readings.add(reading(v * 1e-6));
    }
    assertEquals(List.of(), new ReadingOutliers().off(readings, WAY));
  }

  @Test
  void leavesHonestNoiseAlone() {
    ReadingOutliers readingOutliers = new ReadingOutliers();
    int off = 0;
    for (int point = 0; point < 2000; point++) {
      List<Reading> readings = noisy(10);
      off += readingOutliers.off(readings, WAY).size();
      readingOutliers.learn(readings, WAY);
    }
    assertEquals(0, off);
  }

  @Test
  void singlesNothingOutWhereThePointAsAWholeIsUnsteady() {
    ReadingOutliers readingOutliers = new ReadingOutliers();
    for (int point = 0; point < 5; point++) {
      readingOutliers.learn(noisy(10), WAY);
    }
    List<Reading> readings = new ArrayList<>();
    for (int i = 0; i < 10; i++) {
      readings.add(reading(1e-3 * (1 + 50e-6 * random.nextGaussian())));
    }
    assertEquals(List.of(), readingOutliers.off(readings, WAY));
  }

  private List<Reading> withOne(List<Reading> readings, int at, double ppm) {
    readings.set(at, reading(1e-3 * (1 + 1e-6 * ppm)));
    return readings;
  }

  /** Completes a point as the run does; every further reading is an honest one. */
  private List<Integer> offAmong(ReadingOutliers readingOutliers, List<Reading> readings) {
    readings.addAll(noisy(readingOutliers.wanting(readings, WAY)));
    return readingOutliers.off(readings, WAY);
  }

  @ParameterizedTest
  @ValueSource(ints = {2, 3, 4})
  void tellsWhichOfAFewIsOffOnceTheScatterIsKnown(int n) {
    ReadingOutliers readingOutliers = new ReadingOutliers();
    for (int point = 0; point < 60; point++) {
      readingOutliers.learn(noisy(n), WAY);
    }
    for (int at = 0; at < n; at++) {
      List<Reading> readings = withOne(noisy(n), at, 12);
      assertEquals(8 - n, readingOutliers.wanting(readings, WAY));
      assertEquals(List.of(at), offAmong(readingOutliers, readings));
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {2, 3, 4, 5, 7})
  void tellsWhichOfAFewIsOffAtTheFirstPoint(int n) {
    for (int at = 0; at < n; at++) {
      List<Reading> readings = withOne(noisy(n), at, 1000);
      assertEquals(List.of(at), offAmong(new ReadingOutliers(), readings));
    }
  }

  /**
   * A meter whose readings are all equal to the last digit shows no scatter to hold one against.
   */
  @Test
  void tellsWhichIsOffAmongEqualOnesByTheResolution() {
    ReadingOutliers.Way way = new ReadingOutliers.Way(MeasuredSignal.CURRENT, "1mA", 1e-9);
    ReadingOutliers readingOutliers = new ReadingOutliers();
    List<Reading> readings = new ArrayList<>(Collections.nCopies(3, reading(1e-3)));
    readings.set(1, reading(1.001e-3));
    assertEquals(5, readingOutliers.wanting(readings, way));
    readings.addAll(Collections.nCopies(5, reading(1e-3)));
    assertEquals(List.of(1), readingOutliers.off(readings, way));
  }

  @Test
  void asksForNothingWhereOneReadingHasNoNeighbour() {
    assertEquals(0, new ReadingOutliers().wanting(noisy(1), WAY));
  }

  /**
   * A night of honest noise from its first point on. By the table of the range of normal samples
   * (Pearson and Hartley, Biometrika Tables, 1966, table 23; from memory) fewer than 1 in 5,000
   * points of 3 or 4 has a range beyond six standard deviations; what is completed without need
   * costs a few readings, what is called off without need would be a false alarm.
   */
  @ParameterizedTest
  @ValueSource(ints = {2, 3, 4, 5, 10})
  void hasNoFalseAlarmsInCleanNights(int n) {
    int off = 0;
    int completed = 0;
    for (int night = 0; night < 50; night++) {
      ReadingOutliers readingOutliers = new ReadingOutliers();
      for (int point = 0; point < 200; point++) {
        List<Reading> readings = noisy(n);
        int wanting = readingOutliers.wanting(readings, WAY);
        completed += wanting > 0 ? 1 : 0;
        readings.addAll(noisy(wanting));
        off += readingOutliers.off(readings, WAY).size();
        readingOutliers.learn(readings, WAY);
      }
    }
    assertEquals(0, off);
    assertTrue(completed < 100, completed + " of 10,000 points were completed");
  }
}
