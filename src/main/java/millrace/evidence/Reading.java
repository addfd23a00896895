// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;

/**
 * One number that came from one instrument, with its raw reply. Readings are never changed.
 *
 * @param signal the measured signal, which determines the unit
 * @param instrument the instrument's name in the bench file
 * @param state the kind of reply
 * @param value the number as read, in the base unit of the signal; empty unless the state is number
 *     or suspect
 * @param zero the zero that is to be subtracted, same unit; empty where none was taken
 * @param raw the reply as received
 * @param takenAt wall-clock stamp
 * @param elapsed elapsed time of the run
 */
public record Reading(
    MeasuredSignal signal,
    String instrument,
    ReadingState state,
    OptionalDouble value,
    OptionalDouble zero,
    String raw,
    Instant takenAt,
    Duration elapsed) {

  /** Checks that a value is present if and only if the state requires it, and finite. */
  public Reading {
    boolean number = state == ReadingState.NUMBER || state == ReadingState.SUSPECT;
    if (number != value.isPresent()) {
      throw new IllegalArgumentException(
          "a reading in state '"
              + state.text()
              + "' must "
              + (number ? "" : "not ")
              + "have a value");
    }
    if (value.isPresent() && !Double.isFinite(value.getAsDouble())) {
      throw new IllegalArgumentException("a reading is finite, found " + value.getAsDouble());
    }
  }

  /**
   * The number less its zero; the number as read is kept.
   *
   * @return value - zero; the value itself where no zero was taken; empty without a value
   */
  public OptionalDouble corrected() {
    if (value.isEmpty() || zero.isEmpty()) {
      return value;
    }
    return OptionalDouble.of(value.getAsDouble() - zero.getAsDouble());
  }

  /**
   * The numbers of one signal, as read, without suspects.
   *
   * @param readings of any signals
   * @param signal which of them
   * @return in their order
   */
  public static DoubleStream numbers(List<Reading> readings, MeasuredSignal signal) {
    return of(readings, signal).mapToDouble(r -> r.value().orElseThrow());
  }

  /**
   * The same less their zeros.
   *
   * @param readings of any signals
   * @param signal which of them
   * @return in their order
   */
  public static DoubleStream corrected(List<Reading> readings, MeasuredSignal signal) {
    return of(readings, signal).mapToDouble(r -> r.corrected().orElseThrow());
  }

  private static Stream<Reading> of(List<Reading> readings, MeasuredSignal signal) {
    return readings.stream().filter(r -> r.signal() == signal && r.state() == ReadingState.NUMBER);
  }
}
