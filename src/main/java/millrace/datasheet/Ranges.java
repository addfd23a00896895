// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import millrace.quantity.Numbers;

/** The checks that compact constructors share. */
final class Ranges {
  private Ranges() {}

  static void above0(String what, double value) {
    if (!(value > 0) || Double.isInfinite(value)) {
      throw new IllegalArgumentException(
          "the " + what + " is " + Numbers.print(value) + "; expected above 0");
    }
  }

  static void from0(String what, double value) {
    if (!(value >= 0) || Double.isInfinite(value)) {
      throw new IllegalArgumentException(
          "the " + what + " is " + Numbers.print(value) + "; expected 0 or more");
    }
  }
}
