// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import millrace.quantity.EnumWord;

/** The conditions that a result may be stated at; names as in JSON. */
public enum ResultConditionKey implements EnumWord {
  /** Load resistance, ohm. */
  LOAD_OHM("load_ohm"),
  /** Voltage at the terminals, V. */
  TERMINAL_VOLTAGE_V("terminal_voltage_V"),
  /** Temperature of the unit, degC. */
  TEMPERATURE_DEGC("temperature_degC"),
  /** Supply voltage, V. */
  SUPPLY_V("supply_V"),
  /** Set current of a settable source, A. */
  SET_A("set_A"),
  /** Averaging time, s. */
  TAU_S("tau_s"),
  /** Bandwidth, Hz. */
  BANDWIDTH_HZ("bandwidth_Hz"),
  /** Duration of the record, s. */
  DURATION_S("duration_s"),
  /** Half-width of a settling band, ppm. */
  WITHIN_PPM("within_ppm"),
  /** Fall of the current that defines compliance, a ratio. */
  CRITERION("criterion"),
  /** Direction of a sweep, a word. */
  DIRECTION("direction", true),
  /** Which excursion of temperature: cold, hot or full. */
  EXCURSION("excursion", true),
  /** The range in the denominator. */
  OTHER_RANGE("other_range", true);

  private final String text;
  private final boolean word;

  ResultConditionKey(String text) {
    this(text, false);
  }

  ResultConditionKey(String text, boolean word) {
    this.text = text;
    this.word = word;
  }

  /**
   * Tells whether the condition is a word or a number.
   *
   * @return true for a word, false for a number
   */
  public boolean isWord() {
    return word;
  }

  @Override
  public String text() {
    return text;
  }
}
