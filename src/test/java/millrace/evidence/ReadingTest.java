// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

class ReadingTest {
  private static final List<Reading> READINGS =
      List.of(
          reading(MeasuredSignal.CURRENT, ReadingState.NUMBER, OptionalDouble.of(3)),
          reading(MeasuredSignal.VOLTAGE, ReadingState.NUMBER, OptionalDouble.of(5)),
          reading(MeasuredSignal.CURRENT, ReadingState.SUSPECT, OptionalDouble.of(300)),
          reading(MeasuredSignal.CURRENT, ReadingState.OVERLOAD, OptionalDouble.empty()),
          reading(MeasuredSignal.CURRENT, ReadingState.NUMBER, OptionalDouble.of(4)));

  private static Reading reading(MeasuredSignal signal, ReadingState state, OptionalDouble value) {
    OptionalDouble zero = OptionalDouble.of(0.5);
    return new Reading(signal, "meter", state, value, zero, "", Instant.EPOCH, Duration.ZERO);
  }

  @Test
  void suspectsAreNoneOfTheNumbers() {
    assertArrayEquals(
        new double[] {3, 4}, Reading.numbers(READINGS, MeasuredSignal.CURRENT).toArray(), 0.0);
  }

  @Test
  void zerosAreTakenOff() {
    assertArrayEquals(
        new double[] {2.5, 3.5},
        Reading.corrected(READINGS, MeasuredSignal.CURRENT).toArray(),
        0.0);
  }
}
