// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.function.DoublePredicate;

/** The columns that an import knows, in the order in which an export writes them. */
enum ImportColumn {
  UNIT("unit"),
  BATCH("batch"),
  TAG("tag"),
  OPERATOR("operator"),
  BENCH("bench"),
  RANGE("range"),
  NOMINAL("nominal_A", "a current in A, not 0, from 1e-18 to 1e6 in size", ImportColumn::isNominal),
  POINT("point"),
  TIME("time_s", "a time in s from the start", ImportColumn::isSpan),
  TAKEN_AT("taken_at"),
  TEMPERATURE(
      "temperature_degC",
      "a temperature in degC, from -273.15 to 10000",
      ImportColumn::isTemperature),
  LOAD("load_ohm", "a resistance in ohm, 0 or more", x -> x >= 0),
  VOLTAGE("terminal_voltage_V", "a voltage in V", x -> true),
  SUPPLY("supply_V", "a voltage in V", x -> true),
  SET("set_A", "a current in A", x -> true),
  DIRECTION("direction"),
  SLOT("slot"),
  CURRENT("current_A", "a current in A", x -> true),
  U_CURRENT("u_current_A", "a standard uncertainty in A, 0 or more", x -> x >= 0),
  U_DISTRIBUTION("u_distribution"),
  U_DEGREES_OF_FREEDOM("u_degrees_of_freedom", "degrees of freedom, 1 or more", x -> x >= 1),
  U_COMMON("u_common_A", "a standard uncertainty in A, 0 or more", x -> x >= 0),
  U_COMMON_RELATIVE(
      "u_common_relative",
      "a relative standard uncertainty, a ratio from 0 to 1",
      ImportColumn::isShare),
  COMMON_GROUP("common_group"),
  METER_RANGE("meter_range"),
  U_VOLTAGE("u_terminal_voltage_V", "a standard uncertainty in V, 0 or more", x -> x >= 0),
  U_TEMPERATURE(
      "u_temperature_degC",
      "a standard uncertainty in K, from 0 to 10000",
      x -> x >= 0 && x <= ImportColumn.HOTTEST);

  /** The upper limit of a temperature; nothing on a bench is hotter, degC. */
  private static final double HOTTEST = 1e4;

  /** The longest time from the start that the logbook can hold, s: about 290 years. */
  private static final double LONGEST_S = 9.2e9;

  private final String header;
  private final String inWords;
  private final DoublePredicate allowed;

  ImportColumn(String header) {
    this(header, "a word", x -> false);
  }

  ImportColumn(String header, String inWords, DoublePredicate allowed) {
    this.header = header;
    this.inWords = inWords;
    this.allowed = allowed;
  }

  private static boolean isSpan(double s) {
    return Math.abs(s) <= LONGEST_S;
  }

  /**
   * A few electrons per second, and more than any wire carries: a value outside is a typing error.
   */
  private static boolean isNominal(double ampere) {
    return Math.abs(ampere) >= 1e-18 && Math.abs(ampere) <= 1e6;
  }

  private static boolean isTemperature(double degC) {
    return degC >= -273.15 && degC <= HOTTEST;
  }

  private static boolean isShare(double ratio) {
    return ratio >= 0 && ratio <= 1;
  }

  /** The name in the header of the file. */
  String header() {
    return header;
  }

  /** The kind of its numbers, for messages. */
  String inWords() {
    return inWords;
  }

  boolean allows(double number) {
    return allowed.test(number);
  }

  boolean needed() {
    return this == RANGE || this == NOMINAL || this == CURRENT;
  }

  /** The name of every column. */
  static Collection<String> headers() {
    return Arrays.stream(values()).map(ImportColumn::header).toList();
  }

  /** Columns that have no meaning without another one, after that other one. */
  static List<ImportColumn> without(ImportColumn other) {
    return switch (other) {
      case VOLTAGE -> List.of(U_VOLTAGE);
      case TEMPERATURE -> List.of(U_TEMPERATURE);
      case U_CURRENT -> List.of(U_DISTRIBUTION, U_DEGREES_OF_FREEDOM);
      default -> List.of();
    };
  }
}
