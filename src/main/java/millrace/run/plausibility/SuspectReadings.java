// SPDX-License-Identifier: Apache-2.0
package millrace.run.plausibility;

import java.util.List;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;

/** Readings that are kept and not counted. */
public final class SuspectReadings {
  private SuspectReadings() {}

  /**
   * Marks all readings of a point that cannot be right as suspect: they are kept, and no result
   * uses them.
   */
  public static List<Reading> all(List<Reading> readings) {
    return readings.stream().map(r -> isOfMeter(r.signal()) ? one(r) : r).toList();
  }

  private static boolean isOfMeter(MeasuredSignal signal) {
    return signal == MeasuredSignal.CURRENT || signal == MeasuredSignal.VOLTAGE;
  }

  /** The same reading, kept but not counted; one that is no number is left as it is. */
  public static Reading one(Reading r) {
    if (r.state() != ReadingState.NUMBER) {
      return r;
    }
    return new Reading(
        r.signal(),
        r.instrument(),
        ReadingState.SUSPECT,
        r.value(),
        r.zero(),
        r.raw(),
        r.takenAt(),
        r.elapsed());
  }
}
