// SPDX-License-Identifier: Apache-2.0
package millrace.architecture.planted;

/** Filled from a file, so to say; one component of it is read by nobody on purpose. */
record Stated(double asked, double ignored) {
  Stated {
    if (ignored < 0) {
      throw new IllegalArgumentException("checked, and yet ignored: " + ignored);
    }
  }
}
