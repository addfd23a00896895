// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.tables;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import millrace.assessment.basis.SharedRunInputs;
import millrace.document.file.AtomicFolder;
import millrace.exchange.CsvTable;
import millrace.exchange.Exported;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;

/**
 * Writes runs as linked tables: CSV files (IETF, RFC 4180, 2005), and a description of their
 * columns, keys and links for statistics software (Tabular Data Package 1, the open specification
 * of Frictionless Data). One thread.
 */
public final class LinkedTables {
  /** The name of a description, as its specification requires. */
  static final String DESCRIPTION = "datapackage.json";

  private final List<TableFile> files = new ArrayList<>();
  private final List<String> notes = new ArrayList<>();

  private LinkedTables() {}

  /**
   * Writes runs into a new folder, which is complete or absent.
   *
   * @param book the logbook of the runs; only read
   * @param runs the runs, each once
   * @param folder its name must not exist
   * @return the number of rows of all tables, and the notes for readers
   * @throws millrace.fault.BadInputException if the folder exists, or cannot be made
   * @throws millrace.fault.OutputException if the disk refuses the data
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
      SharedRunInputs shared = new SharedRunInputs();
      for (RunSummary run : runs) {
        StoredRun stored = StoredRun.of(book.reader(run.id()), shared, RunReader::results);
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
