// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

/**
 * An amount of a night that can be larger or smaller, in the order in which a search makes it
 * smaller: readings last, since they make up for what the rest costs.
 */
public enum NightLever {
  /** A sweep up and down, or once in an order that separates a drift from a slope. */
  SWEEP("ways of each sweep", true),
  /** All loads, some, or three at the ends of the promised span. */
  ENDS("loads at hot and cold", true),
  /** All loads, some, or none at the temperature between. */
  BETWEEN("loads at the temperature between", true),
  /** Loads on the plateau. */
  LOADS("loads on the plateau", true),
  /** The largest distance from the final value at the end of a soak. */
  SOAK("end of the soak", false),
  /** Readings of a point. */
  READINGS("readings a point", true),
  /** Readings of a point at the ends of the promised span. */
  AWAY("readings a point at hot and cold", true),
  /** Readings of a point at the temperature between. */
  NEAR("readings a point at the temperature between", true),
  /** Readings of the voltage at a point. */
  VOLTAGE("readings of the voltage", false),
  /** The visits at which the knee is searched for. */
  KNEES("visits with a knee", false),
  /** The final width of the search for the knee. */
  KNEE("resolution of the knee", false),
  /** Readings of a zero. */
  ZEROS("readings a zero", false),
  /** The length of the record over time. */
  RECORD("record over time", false);

  private final String text;
  private final boolean ofRange;

  NightLever(String text, boolean ofRange) {
    this.text = text;
    this.ofRange = ofRange;
  }

  /** Whether each range has its own amount. */
  public boolean isOfRange() {
    return ofRange;
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
