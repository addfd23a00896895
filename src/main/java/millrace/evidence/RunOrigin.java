// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import millrace.quantity.EnumWord;

/** The origin of a run's readings. */
public enum RunOrigin implements EnumWord {
  /** Real instruments. */
  BENCH("bench"),
  /** A simulated bench: never mixed with real units. */
  SIMULATED("simulated"),
  /** A file of readings taken elsewhere. */
  IMPORTED("imported");

  private final String text;

  RunOrigin(String text) {
    this.text = text;
  }

  @Override
  public String text() {
    return text;
  }
}
