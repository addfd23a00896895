// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.tables;

import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import millrace.document.file.TemporaryFiles;
import millrace.exchange.CsvTable;
import tech.tablesaw.api.Table;
import tech.tablesaw.columns.Column;

/** Writes a table into its file, piece by piece. Single-threaded; close it. */
final class TableFile implements AutoCloseable {
  private final LinkedTable table;
  private final BufferedWriter out;
  private Optional<CsvTable> csv = Optional.empty();
  private List<Column<?>> columns = List.of();
  private long rows;

  TableFile(LinkedTable table, Path folder) throws IOException {
    this.table = table;
    this.out = Files.newBufferedWriter(TemporaryFiles.create(folder.resolve(name())));
  }

  LinkedTable table() {
    return table;
  }

  /** The name of the file. */
  String name() {
    return table.name() + ".csv";
  }

  /** The columns, by name and type; empty before the first run. */
  List<Column<?>> columns() {
    return columns;
  }

  long rows() {
    return rows;
  }

  /** The number of fields that got a leading apostrophe. */
  long guarded() {
    return csv.map(CsvTable::guarded).orElse(0L);
  }

  void add(StoredRun run) {
    table.source().of(run, this::add);
  }

  private void add(Table piece) {
    if (csv.isEmpty()) {
      csv = Optional.of(new CsvTable(out, piece.columnNames()));
      columns = piece.emptyCopy().columns();
    }
    CsvTable into = csv.orElseThrow();
    for (int row = 0; row < piece.rowCount(); row++) {
      into.add(Cells.of(piece, row));
    }
    into.finish();
    rows += piece.rowCount();
  }

  @Override
  public void close() throws IOException {
    out.close();
  }
}
