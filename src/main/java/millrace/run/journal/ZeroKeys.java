// SPDX-License-Identifier: Apache-2.0
package millrace.run.journal;

import java.util.Map;
import millrace.evidence.Signal;

/** By what zeros of a meter are kept. */
public final class ZeroKeys {
  /** Under which name points keep the range of the current meter. */
  static final String RANGE = "current meter range";

  private ZeroKeys() {}

  /**
   * The range that the current meter was in.
   *
   * @param settings of a point
   * @return empty if none was kept
   */
  public static String rangeOf(Map<String, String> settings) {
    return settings.getOrDefault(RANGE, "");
  }

  static boolean isCurrent(Signal signal) {
    return signal == Signal.CURRENT;
  }
}
