// SPDX-License-Identifier: Apache-2.0
package millrace.architecture.planted;

import millrace.fault.Faults;

/** Breaks a rule on purpose, so that the rule is seen to catch it. */
final class LeafThatLooksUp {
  private final Faults faults = new Faults();

  boolean clean() {
    return faults.count() == 0;
  }
}
