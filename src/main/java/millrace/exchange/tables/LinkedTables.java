// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.tables;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import millrace.document.file.AtomicFolder;
import millrace.exchange.CsvTable;
import millrace.exchange.Exported;
import millrace.logbook.Logbook;
import millrace.logbook.RunSummary;

/**
 * Writes runs as tables that belong together: CSV files (IETF, RFC 4180, 2005), and a description
 * of their columns, keys and links that statistics software reads (Tabular Data Package 1, the open
 * specification of Frictionless Data). One thread.
 */
public final class LinkedTables {
  /** What a description is called by its specification. */
  static final String DESCRIPTION = "datapackage.json";

  private final List<TableFile> files = new ArrayList<>();
  private final List<String> notes = new ArrayList<>();

  private LinkedTables() {}

  /**
   * Writes runs into a new folder, which is whole or not there.
   *
   * @param book where the runs are; only read
   * @param runs which ones, each once
   * @param folder there must be nothing of this name
   * @return how many rows all tables have, and what a reader should know
   * @throws millrace.fault.BadInputException if the folder is there, or cannot be made
   * @throws millrace.fault.OutputException if the disk does not take it
   */
  public static Exported write(Logbook book, List<RunSummary> runs, Path folder) {
    LinkedTables tables = new LinkedTables();
    AtomicFolder.write(folder, "--tables", draft -> tables.fill(draft, book, runs));
    return new Exported(tables.files.stream().mapToLong(TableFile::rows).sum(), tables.notes);
  }

  private void fill(Path folder, Logbook book, List<RunSummary> runs) throws IOException {
    try {
      for (LinkedTable table : LinkedTable.all()) {
        files.add(new TableFile(table, folder));
      }
      for (RunSummary run : runs) {
        StoredRun stored = StoredRun.of(book.reader(run.id()));
        notes.addAll(stored.notes());
        files.forEach(file -> file.add(stored));
      }
    } finally {
      for (TableFile file : files) {
        file.close();
      }
    }
    notes.addAll(CsvTable.notes(files.stream().mapToLong(TableFile::guarded).sum()));
    Files.writeString(folder.resolve(DESCRIPTION), TableDescription.of(files));
  }
}
