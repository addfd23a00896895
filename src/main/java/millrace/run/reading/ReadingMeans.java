// SPDX-License-Identifier: Apache-2.0
package millrace.run.reading;

import java.util.List;
import java.util.OptionalDouble;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Reading;

/** Means of readings at one point. */
public final class ReadingMeans {
  private ReadingMeans() {}

  /** The mean current of those readings that count, A. */
  public static OptionalDouble currentA(List<Reading> readings) {
    return Reading.corrected(readings, MeasuredSignal.CURRENT).average();
  }

  /** The mean voltage of those readings that count, V. */
  public static OptionalDouble voltageV(List<Reading> readings) {
    return Reading.numbers(readings, MeasuredSignal.VOLTAGE).average();
  }
}
