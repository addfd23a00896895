// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import com.univocity.parsers.common.TextWritingException;
import java.io.FilterWriter;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.util.List;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import tech.tablesaw.api.StringColumn;
import tech.tablesaw.api.Table;
import tech.tablesaw.io.csv.CsvWriteOptions;

/**
 * Writes a table as CSV (IETF, RFC 4180, 2005), piece by piece, so that it may be of any length.
 * Single-threaded.
 */
final class CsvTable {
  /** Rows of a piece. */
  private static final int PIECE = 20_000;

  /** What a spreadsheet would compute instead of showing it, unless it is a plain number. */
  private static final Pattern FORMULA = Pattern.compile("[=+\\-@\t\r](?s:.*)");

  private static final Pattern NUMBER =
      Pattern.compile("[+-]?(\\d+\\.?\\d*|\\.\\d+)([eE][+-]?\\d+)?|[+-]?(inf|Infinity)");

  private final Watched out;
  private final List<String> header;
  private List<StringColumn> columns;
  private boolean begun;
  private long rows;
  private long guarded;

  CsvTable(Writer out, List<String> header) {
    this.out = new Watched(out);
    this.header = header.stream().map(this::harmless).toList();
    this.columns = empty();
  }

  /** Columns remember every text they ever held, so that each piece has its own. */
  private List<StringColumn> empty() {
    return header.stream().map(StringColumn::create).toList();
  }

  /** Adds a row: one field a column, as it is to stand in the file. */
  void add(List<String> fields) {
    if (fields.size() != columns.size()) {
      throw new IllegalArgumentException(
          fields.size() + " fields for " + columns.size() + " columns");
    }
    for (int i = 0; i < fields.size(); i++) {
      columns.get(i).append(harmless(fields.get(i)));
    }
    rows++;
    if (rows % PIECE == 0) {
      write();
    }
  }

  /** A leading apostrophe makes a spreadsheet show what it would compute otherwise. */
  private String harmless(String field) {
    if (!FORMULA.matcher(field).matches() || NUMBER.matcher(field).matches()) {
      return field;
    }
    guarded++;
    return "'" + field;
  }

  /** How many fields were given a leading apostrophe. */
  long guarded() {
    return guarded;
  }

  /** Writes what is still waiting; the header also where there was no row. */
  void finish() {
    if (!begun || columns.get(0).size() > 0) {
      write();
    }
  }

  private void write() {
    Table piece = Table.create("export");
    columns.forEach(piece::addColumns);
    try {
      write(piece);
    } catch (IllegalStateException | TextWritingException e) {
      throw unwritable(e);
    }
    begun = true;
    columns = empty();
  }

  /** The library hides behind faults of its own that a disk took no more, and forgets why. */
  private RuntimeException unwritable(RuntimeException e) {
    return out.failure == null ? e : new UncheckedIOException(out.failure);
  }

  /** Remembers why nothing more could be written. */
  private static final class Watched extends FilterWriter {
    private @Nullable IOException failure;

    Watched(Writer out) {
      super(out);
    }

    private interface Act {
      void run() throws IOException;
    }

    private void watched(Act act) throws IOException {
      try {
        act.run();
      } catch (IOException e) {
        failure = failure == null ? e : failure;
        throw e;
      }
    }

    @Override
    public void write(int c) throws IOException {
      watched(() -> out.write(c));
    }

    @Override
    public void write(char[] from, int at, int count) throws IOException {
      watched(() -> out.write(from, at, count));
    }

    @Override
    public void write(String text, int at, int count) throws IOException {
      watched(() -> out.write(text, at, count));
    }

    @Override
    public void flush() throws IOException {
      watched(out::flush);
    }
  }

  private void write(Table piece) {
    piece
        .write()
        .usingOptions(
            CsvWriteOptions.builder(out)
                .header(!begun)
                .quoteChar('"')
                .escapeChar('"')
                .lineEnd("\r\n")
                .ignoreLeadingWhitespaces(false)
                .ignoreTrailingWhitespaces(false)
                .build());
  }
}
