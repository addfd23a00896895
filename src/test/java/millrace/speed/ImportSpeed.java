// SPDX-License-Identifier: Apache-2.0
package millrace.speed;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/** An import, beside that of the database's own shell of the same rows, keys and checks. */
final class ImportSpeed implements SpeedPart {
  private static final int READINGS = 100_000;
  private static final int IN_SMALL = 1_000;
  private static final int MORE = 1_000_000;
  private static final int MORE_IN_SMALL = 1_500;
  private static final int MANY = 3_000_000;
  private static final int MANY_IN_SMALL = 2_000;

  @Override
  public void into(SpeedTable table) throws IOException, InterruptedException {
    beside(table, table.size(READINGS, IN_SMALL), "3");
    beside(table, table.size(MORE, MORE_IN_SMALL), "2");
    inLittleMemory(table, table.size(MANY, MANY_IN_SMALL));
  }

  private static void beside(SpeedTable table, int readings, String asked)
      throws IOException, InterruptedException {
    String work = "import of %s readings".formatted(readings);
    if (!TimedCommand.installed("sqlite3")) {
      table.absent(work, "sqlite3 is not installed", asked);
      return;
    }
    String csv = ImportedReadings.written(table.folder(), readings).toString();
    Path script = table.folder().resolve("shell.sql");
    Files.writeString(
        script,
        "CREATE TABLE reading (range TEXT NOT NULL, nominal_A REAL NOT NULL, current_A REAL NOT"
            + " NULL CHECK (abs(current_A) < 1), load_ohm REAL NOT NULL, temperature_degC REAL NOT"
            + " NULL, time_s REAL NOT NULL, PRIMARY KEY (range, time_s)) WITHOUT ROWID;\n"
            + ".import --csv --skip 1 '%s' reading\n".formatted(csv));
    String book = table.folder().resolve("b.db").toString();
    String plain = table.folder().resolve("plain.db").toString();
    table.beside(
        work,
        TimedCommand.imported(readings, csv, book),
        "sqlite3's import",
        TimedCommand.of("sqlite3", plain, ".read '%s'".formatted(script)),
        asked,
        () -> forgotten(book, plain));
  }

  /** Both imports go into files that are not there yet. */
  private static void forgotten(String... books) throws IOException {
    for (String book : books) {
      for (String end : List.of("", "-wal", "-shm")) {
        Files.deleteIfExists(Path.of(book + end));
      }
    }
  }

  private static void inLittleMemory(SpeedTable table, int readings)
      throws IOException, InterruptedException {
    String csv = ImportedReadings.written(table.folder(), readings).toString();
    String book = table.folder().resolve("many.db").toString();
    List<String> little = List.of("-XX:+UseSerialGC", "-Xmx64m");
    TimedCommand.Took took =
        TimedCommand.millrace(little, "import", csv, "--logbook", book).done(table.folder());
    table.row(
        "import of %s readings in a heap of 64 MiB".formatted(readings),
        SpeedTable.text(took),
        "",
        "",
        "done",
        "done");
  }
}
