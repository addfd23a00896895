// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import millrace.quantity.EnumWord;

/** The role of an input file in a run. */
public enum FileRole implements EnumWord {
  /** What to do. */
  SEQUENCE("sequence"),
  /** A sequence included by another. */
  PART("part"),
  /** What the unit promises. */
  DATASHEET("datasheet"),
  /** The instruments and their wiring. */
  BENCH("bench"),
  /** How an instrument is spoken to. */
  DRIVER("driver"),
  /** Readings taken elsewhere. */
  READINGS("readings"),
  /** Anything else that a result depends on. */
  OTHER("other");

  private final String text;

  FileRole(String text) {
    this.text = text;
  }

  @Override
  public String text() {
    return text;
  }
}
