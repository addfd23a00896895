// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

/** What a night can have more or less of. */
public enum NightLever {
  /** Temperatures between the ends of what is promised. */
  TEMPERATURES("temperatures"),
  /** Whether a whole sweep is made away from T_ref, or three loads. */
  ENDS("loads away from T_ref"),
  /** Loads on the plateau. */
  LOADS("loads on the plateau"),
  /** Whether loads are gone through up and down. */
  SWEEP("ways of each sweep"),
  /** Readings of a point. */
  READINGS("readings a point"),
  /** Readings of a zero. */
  ZEROS("readings a zero"),
  /** At which visits the knee is looked for. */
  KNEES("visits with a knee"),
  /** How narrow the search for the knee gets. */
  KNEE("resolution of the knee"),
  /** How near to rest a soak ends. */
  SOAK("end of the soak"),
  /** How long the record over time is. */
  RECORD("record over time");

  private final String text;

  NightLever(String text) {
    this.text = text;
  }

  /**
   * In words.
   *
   * @return such as {@code readings a point}
   */
  public String text() {
    return text;
  }
}
