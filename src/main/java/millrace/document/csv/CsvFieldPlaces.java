// SPDX-License-Identifier: Apache-2.0
package millrace.document.csv;

import java.io.IOException;
import java.io.Reader;
import java.util.HashMap;
import java.util.Map;
import java.util.Set;

/**
 * Finds where the fields of some rows of a CSV file begin, character by character. Single-threaded.
 */
final class CsvFieldPlaces {

  /** A place in the file; column 0 means the whole line. */
  record Spot(long line, int column) {}

  private record Field(long row, int field) {}

  private final Set<Long> wanted;
  private final Map<Field, Spot> spots = new HashMap<>();
  private long line = 1;
  private int column = 1;
  private long row = 1;
  private int field;
  private boolean quoted;
  private boolean fieldBegins = true;

  /**
   * Looks for these rows.
   *
   * @param wanted the lines that they begin in
   */
  CsvFieldPlaces(Set<Long> wanted) {
    this.wanted = wanted;
  }

  /** A field that begins farther into the last row is located by its line only. */
  private static final long LONGEST_ROW = 1_000_000;

  /** Reads to the end of the last row wanted, or up to a length that no person writes. */
  void read(Reader in) throws IOException {
    long last = wanted.stream().mapToLong(Long::longValue).max().orElse(0);
    int before = -1;
    long into = 0;
    for (int c = in.read(); c >= 0 && row <= last && into < LONGEST_ROW; c = in.read()) {
      into += row == last ? 1 : 0;
      if (c == '\ufeff' && line == 1 && column == 1) {
        continue;
      }
      step(c, before);
      before = c;
    }
    note();
  }

  private void step(int c, int before) {
    boolean secondOfPair = c == '\n' && before == '\r';
    if (secondOfPair) {
      return;
    }
    note();
    boolean first = fieldBegins;
    fieldBegins = false;
    if (c == '"') {
      quoted = quoted ? false : first || before == '"';
    }
    if (c == '\r' || c == '\n') {
      newLine();
    } else {
      column++;
      if (c == ',' && !quoted) {
        field++;
        fieldBegins = true;
      }
    }
  }

  private void newLine() {
    line++;
    column = 1;
    if (!quoted) {
      row = line;
      field = 0;
      fieldBegins = true;
    }
  }

  private void note() {
    if (fieldBegins && wanted.contains(row)) {
      spots.putIfAbsent(new Field(row, field), new Spot(line, column));
    }
  }

  /**
   * Where a field begins.
   *
   * @param row the line that its row begins in
   * @param field the field, from 0
   * @return the spot; the whole line if the field was not found
   */
  Spot spot(long row, int field) {
    return spots.getOrDefault(new Field(row, field), new Spot(Math.max(1, row), 0));
  }
}
