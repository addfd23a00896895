// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

import java.util.Optional;
import millrace.evidence.MeasuredSignal;
import millrace.quantity.EnumWord;
import org.jspecify.annotations.Nullable;

/** The roles that an instrument can have in a run. */
public enum RoleName implements EnumWord {
  /** Reads the current in the output loop. */
  CURRENT_METER("current meter", MeasuredSignal.CURRENT),
  /** Reads the voltage at the place that the wiring states. */
  VOLTMETER("voltmeter", MeasuredSignal.VOLTAGE),
  /** Reads the voltage across a shunt. */
  SHUNT_VOLTMETER("shunt voltmeter", MeasuredSignal.SHUNT_VOLTAGE),
  /** Sets the resistance that the unit drives. */
  LOAD("load", null),
  /** Holds the unit at a temperature. */
  CHAMBER("chamber", MeasuredSignal.CHAMBER_TEMPERATURE),
  /** Reads the temperature at the unit. */
  UNIT_THERMOMETER("unit thermometer", MeasuredSignal.UNIT_TEMPERATURE),
  /** Reads the temperature of the room. */
  LAB_THERMOMETER("lab thermometer", MeasuredSignal.LAB_TEMPERATURE),
  /** Reads the temperature of the shunt. */
  SHUNT_THERMOMETER("shunt thermometer", MeasuredSignal.SHUNT_TEMPERATURE),
  /** Reads the relative humidity of the room. */
  HYGROMETER("hygrometer", MeasuredSignal.HUMIDITY),
  /** Selects the unit's range. */
  RANGE_SELECTOR("range selector", null),
  /** Feeds the unit. */
  SUPPLY("supply", MeasuredSignal.SUPPLY_VOLTAGE),
  /** Connects units and standards, or nothing, to the meters. */
  SWITCH("switch", null),
  /** Exchanges the unit's leads at the meters. */
  REVERSER("reversing switch", null);

  private final String text;
  private final Optional<MeasuredSignal> signal;

  RoleName(String text, @Nullable MeasuredSignal signal) {
    this.text = text;
    this.signal = Optional.ofNullable(signal);
  }

  @Override
  public String text() {
    return text;
  }

  /**
   * What an instrument in this role reads.
   *
   * @return the signal; empty for roles that only set something
   */
  public Optional<MeasuredSignal> signal() {
    return signal;
  }
}
