// SPDX-License-Identifier: Apache-2.0
package millrace.run.journal;

import java.util.Map;
import millrace.evidence.MeasuredSignal;

/** By what zeros of a meter are kept. */
public final class MeterZeroKeys {
  /** Under which name points keep the range of the current meter. */
  static final String RANGE = "current meter range";

  private MeterZeroKeys() {}

  /**
   * The range that the current meter was in.
   *
   * @param settings of a point
   * @return empty if none was kept
   */
  public static String rangeOf(Map<String, String> settings) {
    return settings.getOrDefault(RANGE, "");
  }

  static boolean isCurrent(MeasuredSignal signal) {
    return signal == MeasuredSignal.CURRENT;
  }
}
