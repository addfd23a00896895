// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

import millrace.quantity.NumberText;

/** The checks shared by the compact constructors of this room. */
public final class SimValueChecks {
  private SimValueChecks() {}

  static void above0(String what, double value) {
    if (!(value > 0) || Double.isInfinite(value)) {
      throw new IllegalArgumentException(shown(what, value) + "; expected above 0");
    }
  }

  /** Refuses a number below 0, or one that is not finite. */
  public static void from0(String what, double value) {
    if (!(value >= 0) || Double.isInfinite(value)) {
      throw new IllegalArgumentException(shown(what, value) + "; expected 0 or more");
    }
  }

  /** Refuses an empty list. */
  public static void notEmpty(String what, int count) {
    if (count == 0) {
      throw new IllegalArgumentException("no " + what + "; expected at least one");
    }
  }

  private static String shown(String what, double value) {
    return "the " + what + " is " + (Double.isFinite(value) ? NumberText.print(value) : "" + value);
  }
}
