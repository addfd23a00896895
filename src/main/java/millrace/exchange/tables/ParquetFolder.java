// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.tables;

import java.io.IOException;
import java.nio.file.Path;
import java.time.YearMonth;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Collectors;
import millrace.assessment.basis.SharedRunInputs;
import millrace.document.file.AtomicFolder;
import millrace.exchange.Exported;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;

/**
 * Writes runs as columnar files (Apache Parquet, format 2) for engines that read folders of them by
 * SQL: one folder a table, in it one folder a month (of the run's start, UTC) and in that one an
 * origin, named {@code month=2026-11/origin=bench} as those engines expect. Simulated, imported and
 * measured readings never share a file. One thread.
 */
public final class ParquetFolder {
  private static final Set<String> TABLES = Set.of("runs", "points", "readings", "results");

  private final List<String> notes = new ArrayList<>();
  private final SharedRunInputs shared = new SharedRunInputs();
  private long rows;

  private ParquetFolder() {}

  /** What the runs of a file share. */
  private record Partition(YearMonth month, String origin) implements Comparable<Partition> {
    static Partition of(RunSummary run) {
      return new Partition(
          YearMonth.from(run.start().startedAt().atOffset(ZoneOffset.UTC)),
          run.start().origin().text());
    }

    String folder() {
      return "month=%s/origin=%s".formatted(month, origin);
    }

    @Override
    public int compareTo(Partition other) {
      int byMonth = month.compareTo(other.month);
      return byMonth != 0 ? byMonth : origin.compareTo(other.origin);
    }
  }

  /**
   * Writes runs into a new folder, which is complete or absent.
   *
   * @param book the logbook or store of the runs; only read
   * @param runs the runs, each once
   * @param folder its name must not exist
   * @return the number of rows of all tables, and the notes for readers
   * @throws millrace.fault.BadInputException if the folder exists, or cannot be made
   * @throws millrace.fault.OutputException if the disk refuses the data
   */
  public static Exported write(Logbook book, List<RunSummary> runs, Path folder) {
    ParquetFolder written = new ParquetFolder();
    SortedMap<Partition, List<RunSummary>> parts =
        runs.stream()
            .collect(Collectors.groupingBy(Partition::of, TreeMap::new, Collectors.toList()));
    AtomicFolder.write(
        folder,
        "--parquet",
        draft -> {
          for (Map.Entry<Partition, List<RunSummary>> part : parts.entrySet()) {
            written.fill(draft, part.getKey(), book, part.getValue());
          }
        });
    return new Exported(written.rows, written.notes);
  }

  /** One month and origin after another, so that few files are open. */
  private void fill(Path draft, Partition part, Logbook book, List<RunSummary> runs)
      throws IOException {
    List<ParquetFile> files = new ArrayList<>();
    Map<String, String> facts = Map.of("millrace.origin", part.origin());
    for (LinkedTable table : LinkedTable.all()) {
      if (TABLES.contains(table.name())) {
        Path folder = draft.resolve(table.name()).resolve(part.folder());
        files.add(new ParquetFile(table, folder, facts));
      }
    }
    try {
      for (RunSummary run : runs) {
        StoredRun stored = StoredRun.of(book.reader(run.id()), shared, RunReader::resultsAlone);
        notes.addAll(stored.notes());
        files.forEach(file -> file.add(stored));
      }
    } finally {
      for (ParquetFile file : files) {
        file.close();
      }
    }
    rows += files.stream().mapToLong(ParquetFile::rows).sum();
  }
}
