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
import millrace.evidence.PointConditions;
import millrace.evidence.SweepDirection;
import millrace.quantity.NumberText;

/** A row of an export under construction: texts by column. Single-threaded. */
final class ExportRow {
  private static final int NANO_DIGITS = 9;
  private static final long NANOS_A_SECOND = 1_000_000_000L;

  private final Map<ImportColumn, String> known = new EnumMap<>(ImportColumn.class);
  private final Map<String, String> others = new LinkedHashMap<>();

  ExportRow put(ImportColumn column, String text) {
    known.put(column, text);
    return this;
  }

  ExportRow put(ImportColumn column, double number) {
    return put(column, NumberText.print(number));
  }

  ExportRow put(ImportColumn column, OptionalDouble number) {
    return number.isPresent() ? put(column, number.getAsDouble()) : this;
  }

  ExportRow put(ImportColumn column, Optional<String> text) {
    text.ifPresent(t -> put(column, t));
    return this;
  }

  /** A column that an import only stores. */
  ExportRow other(String column, String text) {
    others.put(column, text);
    return this;
  }

  ExportRow others(Map<String, String> more) {
    others.putAll(more);
    return this;
  }

  /** A column that an import knows and stores beside the reading. */
  ExportRow kept(ImportColumn column) {
    return put(column, Optional.ofNullable(others.remove(column.header())));
  }

  /** The settings of the point. */
  ExportRow conditions(PointConditions at) {
    return put(ImportColumn.RANGE, at.range())
        .put(ImportColumn.NOMINAL, at.nominalA())
        .put(ImportColumn.LOAD, at.loadOhm())
        .put(ImportColumn.SUPPLY, at.supplyV())
        .put(ImportColumn.SET, at.setA())
        .put(ImportColumn.DIRECTION, at.direction().map(SweepDirection::text))
        .put(ImportColumn.SLOT, at.slot());
  }

  ExportRow time(long nanos) {
    return put(
        ImportColumn.TIME,
        BigDecimal.valueOf(nanos, NANO_DIGITS).stripTrailingZeros().toPlainString());
  }

  ExportRow stamp(long nanos, ZoneOffset offset) {
    Instant instant =
        Instant.ofEpochSecond(
            Math.floorDiv(nanos, NANOS_A_SECOND), Math.floorMod(nanos, NANOS_A_SECOND));
    return put(ImportColumn.TAKEN_AT, OffsetDateTime.ofInstant(instant, offset).toString());
  }

  Map<ImportColumn, String> known() {
    return known;
  }

  Map<String, String> others() {
    return others;
  }
}
