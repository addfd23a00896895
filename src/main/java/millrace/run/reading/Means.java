// SPDX-License-Identifier: Apache-2.0
package millrace.run.reading;

import java.util.List;
import java.util.OptionalDouble;
import millrace.evidence.Reading;
import millrace.evidence.Signal;

/** Means of readings at one point. */
public final class Means {
  private Means() {}

  /** The mean current of those readings that count, A. */
  public static OptionalDouble currentA(List<Reading> readings) {
    return Reading.corrected(readings, Signal.CURRENT).average();
  }

  /** The mean voltage of those readings that count, V. */
  public static OptionalDouble voltageV(List<Reading> readings) {
    return Reading.numbers(readings, Signal.VOLTAGE).average();
  }
}
