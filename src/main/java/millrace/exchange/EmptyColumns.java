// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.util.EnumMap;
import java.util.EnumSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Notes which columns of a file are empty so far: an optional column that is empty in every row
 * counts as missing, one that is filled in only some rows is a fault. Single-threaded.
 */
final class EmptyColumns {
  private final Map<ImportColumn, Long> firstEmpty = new EnumMap<>(ImportColumn.class);
  private final Set<ImportColumn> filled = EnumSet.noneOf(ImportColumn.class);

  /** Takes an empty field; true if the whole column may still be empty. */
  boolean empty(ImportColumn column, long line) {
    if (column.needed() || filled.contains(column)) {
      return false;
    }
    firstEmpty.putIfAbsent(column, line);
    return true;
  }

  /** Takes a filled field; returns the line in which the column is empty, once. */
  Optional<Long> filled(ImportColumn column) {
    return filled.add(column) ? Optional.ofNullable(firstEmpty.get(column)) : Optional.empty();
  }

  /** Tells whether a column has any content. */
  boolean says(ImportColumn column) {
    return filled.contains(column);
  }
}
