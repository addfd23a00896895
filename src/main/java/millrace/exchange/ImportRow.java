// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.time.Duration;
import java.time.OffsetDateTime;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.ReadingState;
import millrace.evidence.SweepDirection;
import millrace.logbook.StatedUncertainty;

/**
 * One row of an imported file.
 *
 * @param line the line of its beginning, from 1
 * @param unit serial number of the unit
 * @param belongs the common facts of the unit's readings
 * @param settings the settings
 * @param label the name of the point in the file; empty without one
 * @param temperature temperature of the unit, degC, with its u
 * @param voltage voltage at the terminals, V, with its u
 * @param current the entry of the current
 * @param stated the statements on the error of the current
 * @param time the time
 * @param extra unknown columns, by name
 */
record ImportRow(
    long line,
    String unit,
    Belongs belongs,
    Settings settings,
    Optional<String> label,
    Measured temperature,
    Measured voltage,
    Entry current,
    StatedUncertainty stated,
    Time time,
    Map<String, String> extra) {

  /**
   * The facts common to all readings of a unit.
   *
   * @param batch of the unit
   * @param tag a free word by which the run can be found
   * @param operator the operator
   * @param bench the bench
   */
  record Belongs(
      Optional<String> batch,
      Optional<String> tag,
      Optional<String> operator,
      Optional<String> bench) {
    static final Belongs NOWHERE =
        new Belongs(Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());
  }

  /**
   * The settings at the time of the reading.
   *
   * @param range name of the range
   * @param nominalA its nominal current, A
   * @param loadOhm everything in series, ohm
   * @param supplyV supply voltage, V
   * @param setA the setting of a settable source, A
   * @param direction of the sweep
   * @param slot of the bench
   */
  record Settings(
      String range,
      double nominalA,
      OptionalDouble loadOhm,
      OptionalDouble supplyV,
      OptionalDouble setA,
      Optional<SweepDirection> direction,
      Optional<String> slot) {}

  /**
   * A measured number beside the current.
   *
   * @param value in the unit of its column
   * @param u standard uncertainty of this value alone
   */
  record Measured(OptionalDouble value, OptionalDouble u) {}

  /**
   * The entry of the current.
   *
   * @param state the kind of entry
   * @param value A; present exactly for a number
   * @param raw its text in the file
   */
  record Entry(ReadingState state, OptionalDouble value, String raw) {}

  /**
   * The time of a reading.
   *
   * @param fromStart from the start of the measurement
   * @param stamp wall clock
   */
  record Time(Optional<Duration> fromStart, Optional<OffsetDateTime> stamp) {}

  /** The same in another line, with another current at another time. */
  ImportRow again(long another, Entry reading, Time at) {
    return new ImportRow(
        another, unit, belongs, settings, label, temperature, voltage, reading, stated, at, extra);
  }

  boolean isNumber() {
    return current.state() == ReadingState.NUMBER;
  }

  /**
   * Tells whether a row belongs to the point of the previous row of the same unit: equal in range,
   * load (without it: terminal voltage), temperature, direction, supply and set current, unless the
   * file names points.
   */
  boolean continues(ImportRow before) {
    if (label.isPresent()) {
      return label.equals(before.label);
    }
    return settings.equals(before.settings)
        && temperature.value().equals(before.temperature.value())
        && (settings.loadOhm().isPresent() || voltage.value().equals(before.voltage.value()));
  }
}
