// SPDX-License-Identifier: Apache-2.0
package millrace.architecture.planted;

import millrace.fault.InputFaultList;

/** Breaks a rule on purpose, so that the rule is seen to catch it. */
final class LeafThatLooksUp {
  private final InputFaultList faults = new InputFaultList();

  boolean clean() {
    return faults.count() == 0;
  }
}
