// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import de.siegmar.fastcsv.writer.CsvWriter;
import de.siegmar.fastcsv.writer.LineDelimiter;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.util.List;
import java.util.regex.Pattern;

/**
 * Writes a table as CSV (IETF, RFC 4180, 2005), row by row, so that its length is not limited.
 * Single-threaded.
 */
public final class CsvTable {
  /** Texts that a spreadsheet would compute instead of showing, unless they are plain numbers. */
  private static final Pattern FORMULA = Pattern.compile("[=+\\-@\t\r](?s:.*)");

  private static final Pattern NUMBER =
      Pattern.compile("[+-]?(\\d+\\.?\\d*|\\.\\d+)([eE][+-]?\\d+)?|[+-]?(inf|Infinity)");

  private final CsvWriter out;
  private final int columns;
  private long guarded;

  /**
   * Begins a table with its header.
   *
   * @param out the destination; stays open
   * @param header the names of the columns
   */
  public CsvTable(Writer out, List<String> header) {
    this.out = CsvWriter.builder().lineDelimiter(LineDelimiter.CRLF).build(out);
    this.columns = header.size();
    add(header);
  }

  /**
   * Adds a row.
   *
   * @param fields one per column, with the text for the file
   * @throws UncheckedIOException if writing fails
   */
  public void add(List<String> fields) {
    if (fields.size() != columns) {
      throw new IllegalArgumentException(fields.size() + " fields for " + columns + " columns");
    }
    out.writeRecord(fields.stream().map(this::harmless).toList());
  }

  /** A leading apostrophe makes a spreadsheet show the text instead of computing it. */
  private String harmless(String field) {
    if (!FORMULA.matcher(field).matches() || NUMBER.matcher(field).matches()) {
      return field;
    }
    guarded++;
    return "'" + field;
  }

  /**
   * The number of fields that got a leading apostrophe.
   *
   * @return 0 or more
   */
  public long guarded() {
    return guarded;
  }

  /**
   * The note for readers about fields with a leading apostrophe.
   *
   * @param guarded the number of such fields
   * @return a sentence; none if there is no such field
   */
  public static List<String> notes(long guarded) {
    return guarded == 0
        ? List.of()
        : List.of(
            "%s fields begin like a formula; they carry a leading apostrophe, so that no spreadsheet computes them"
                .formatted(guarded));
  }

  /**
   * Flushes the buffered rows.
   *
   * @throws UncheckedIOException if writing fails
   */
  public void finish() {
    try {
      out.flush();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
