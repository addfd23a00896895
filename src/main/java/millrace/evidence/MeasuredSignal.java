// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import millrace.quantity.EnumWord;

/** The signal that a reading measures. */
public enum MeasuredSignal implements EnumWord {
  /** Current in the output loop, A. */
  CURRENT("current"),
  /** Voltage at the terminals or across the load, V; the wiring says which. */
  VOLTAGE("voltage"),
  /** Current with the unit's leads exchanged, A: the same meter with reversed polarity. */
  REVERSED_CURRENT("reversed current"),
  /** Voltage with the unit's leads exchanged, V. */
  REVERSED_VOLTAGE("reversed voltage"),
  /** Voltage across the shunt, V. */
  SHUNT_VOLTAGE("shunt voltage"),
  /** Thermometer at the unit, degC. */
  UNIT_TEMPERATURE("unit temperature"),
  /** The chamber's own indication, degC. */
  CHAMBER_TEMPERATURE("chamber temperature"),
  /** Thermometer in the room, degC. */
  LAB_TEMPERATURE("lab temperature"),
  /** Thermometer at the shunt, degC. */
  SHUNT_TEMPERATURE("shunt temperature"),
  /** Relative humidity of the room, a ratio. */
  HUMIDITY("humidity"),
  /** Supply of the unit, V. */
  SUPPLY_VOLTAGE("supply voltage"),
  /** Current taken from the supply, A. */
  SUPPLY_CURRENT("supply current");

  private final String text;

  MeasuredSignal(String text) {
    this.text = text;
  }

  @Override
  public String text() {
    return text;
  }

  /**
   * The same signal with the unit's leads exchanged (methods.md 1.4).
   *
   * @return the reversed signal; itself for a signal that does not reverse with the leads
   */
  public MeasuredSignal reversed() {
    return switch (this) {
      case CURRENT -> REVERSED_CURRENT;
      case VOLTAGE -> REVERSED_VOLTAGE;
      default -> this;
    };
  }

  /**
   * The signal with the leads in normal position.
   *
   * @return the plain signal of a reversed one; itself for any other
   */
  public MeasuredSignal forward() {
    return switch (this) {
      case REVERSED_CURRENT -> CURRENT;
      case REVERSED_VOLTAGE -> VOLTAGE;
      default -> this;
    };
  }
}
