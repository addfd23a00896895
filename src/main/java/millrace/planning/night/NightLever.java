// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

/** An amount of a night that can be larger or smaller. */
public enum NightLever {
  /** Temperatures between the ends of the promised span. */
  TEMPERATURES("temperatures"),
  /** A whole sweep, or three loads, away from T_ref. */
  ENDS("loads away from T_ref"),
  /** Loads on the plateau. */
  LOADS("loads on the plateau"),
  /** A sweep up and down, or in one direction. */
  SWEEP("ways of each sweep"),
  /** Readings of a point. */
  READINGS("readings a point"),
  /** Readings of a zero. */
  ZEROS("readings a zero"),
  /** The visits at which the knee is searched for. */
  KNEES("visits with a knee"),
  /** The final width of the search for the knee. */
  KNEE("resolution of the knee"),
  /** The largest distance from the final value at the end of a soak. */
  SOAK("end of the soak"),
  /** The length of the record over time. */
  RECORD("record over time");

  private final String text;

  NightLever(String text) {
    this.text = text;
  }

  /**
   * The lever in words.
   *
   * @return such as {@code readings a point}
   */
  public String text() {
    return text;
  }
}
