// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import millrace.quantity.NumberText;

/** The checks that compact constructors share. */
final class DatasheetValueChecks {
  private DatasheetValueChecks() {}

  static void above0(String what, double value) {
    if (!(value > 0) || Double.isInfinite(value)) {
      throw new IllegalArgumentException(
          "the " + what + " is " + NumberText.print(value) + "; expected above 0");
    }
  }

  static void from0(String what, double value) {
    if (!(value >= 0) || Double.isInfinite(value)) {
      throw new IllegalArgumentException(
          "the " + what + " is " + NumberText.print(value) + "; expected 0 or more");
    }
  }
}
