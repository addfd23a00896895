package millrace.exchange;

import java.io.Writer;
import java.util.List;
import java.util.regex.Pattern;
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

  private final Writer out;
  private final List<String> header;
  private List<StringColumn> columns;
  private boolean begun;
  private long rows;
  private long guarded;

  CsvTable(Writer out, List<String> header) {
    this.out = out;
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
    begun = true;
    columns = empty();
  }
}
