// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.math.BigDecimal;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.Conditions;
import millrace.evidence.Direction;
import millrace.quantity.Numbers;

/** One row of an export while it is made: texts by column. Single-threaded. */
final class ExportRow {
  private static final int NANO_DIGITS = 9;
  private static final long NANOS_A_SECOND = 1_000_000_000L;

  private final Map<Column, String> known = new EnumMap<>(Column.class);
  private final Map<String, String> others = new LinkedHashMap<>();

  ExportRow put(Column column, String text) {
    known.put(column, text);
    return this;
  }

  ExportRow put(Column column, double number) {
    return put(column, Numbers.print(number));
  }

  ExportRow put(Column column, OptionalDouble number) {
    return number.isPresent() ? put(column, number.getAsDouble()) : this;
  }

  ExportRow put(Column column, Optional<String> text) {
    text.ifPresent(t -> put(column, t));
    return this;
  }

  /** A column that an import only keeps. */
  ExportRow other(String column, String text) {
    others.put(column, text);
    return this;
  }

  ExportRow others(Map<String, String> more) {
    others.putAll(more);
    return this;
  }

  /** A column that an import knows and keeps beside the reading. */
  ExportRow kept(Column column) {
    return put(column, Optional.ofNullable(others.remove(column.header())));
  }

  /** What was set at the point. */
  ExportRow conditions(Conditions at) {
    return put(Column.RANGE, at.range())
        .put(Column.NOMINAL, at.nominalA())
        .put(Column.LOAD, at.loadOhm())
        .put(Column.SUPPLY, at.supplyV())
        .put(Column.SET, at.setA())
        .put(Column.DIRECTION, at.direction().map(Direction::text))
        .put(Column.SLOT, at.slot());
  }

  ExportRow time(long nanos) {
    return put(
        Column.TIME, BigDecimal.valueOf(nanos, NANO_DIGITS).stripTrailingZeros().toPlainString());
  }

  ExportRow stamp(long nanos, ZoneOffset offset) {
    Instant instant =
        Instant.ofEpochSecond(
            Math.floorDiv(nanos, NANOS_A_SECOND), Math.floorMod(nanos, NANOS_A_SECOND));
    return put(Column.TAKEN_AT, OffsetDateTime.ofInstant(instant, offset).toString());
  }

  Map<Column, String> known() {
    return known;
  }

  Map<String, String> others() {
    return others;
  }
}
