// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.io.Writer;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import millrace.assessment.Assessment;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;

/**
 * Readings and constants of a run as CSV (IETF, RFC 4180, 2005).
 *
 * <p>The columns of an exported file of readings are those that an {@link Import} takes; importing
 * the file restores the data behind the results of the run. An imported run is exported reading by
 * reading; a run of a bench is exported point by point, reduced to corrected currents at terminal
 * voltages with their standard uncertainty, since the replies of its instruments mean little
 * without the bench file. One thread.
 */
public final class Export {
  /** The origin of the readings, so that simulated ones never pass for measured ones. */
  static final String ORIGIN = "origin";

  private Export() {}

  /** The columns that the rows of a run fill. */
  private static final class Filled {
    private final Map<ImportColumn, Long> counts = new EnumMap<>(ImportColumn.class);
    private final Set<String> others = new LinkedHashSet<>();
    private long rows;
    private long homeless;

    void count(ExportRow row) {
      if (!row.known().containsKey(ImportColumn.RANGE)) {
        homeless++;
        return;
      }
      rows++;
      row.known().keySet().forEach(column -> counts.merge(column, 1L, Long::sum));
      others.addAll(row.others().keySet());
    }

    /** An import refuses empty fields: a column exists for all rows or for none. */
    List<ImportColumn> columns() {
      List<ImportColumn> whole = new ArrayList<>();
      for (ImportColumn column : ImportColumn.values()) {
        if (column.needed() || counts.getOrDefault(column, 0L) == rows) {
          whole.add(column);
        }
      }
      return whole;
    }

    List<String> notes() {
      List<String> notes = new ArrayList<>();
      for (ImportColumn column : ImportColumn.values()) {
        long count = counts.getOrDefault(column, 0L);
        if (count > 0 && count < rows) {
          notes.add(
              "column '%s' is left out: only %s of %s rows have it"
                  .formatted(column.header(), count, rows));
        }
      }
      if (homeless > 0) {
        notes.add(homeless + " rows without a range are left out");
      }
      return notes;
    }
  }

  /**
   * Writes the readings of a run.
   *
   * @param reader the run
   * @param out the destination; flushed, not closed
   * @return the number of rows written
   */
  public static Exported readings(RunReader reader, Writer out) {
    RunSummary run = reader.summary();
    String origin = run.start().origin().text();
    ExportRows source = ExportRows.of(reader);
    Filled filled = new Filled();
    source.each(filled::count);
    List<ImportColumn> columns = filled.columns();
    List<String> others = new ArrayList<>(filled.others);
    boolean named = others.contains(ORIGIN);
    List<String> header = new ArrayList<>(columns.stream().map(ImportColumn::header).toList());
    header.addAll(others);
    if (!named) {
      header.add(ORIGIN);
    }
    CsvTable table = new CsvTable(out, header);
    source.each(
        row -> {
          if (row.known().containsKey(ImportColumn.RANGE)) {
            List<String> fields = new ArrayList<>(header.size());
            columns.forEach(column -> fields.add(row.known().getOrDefault(column, "")));
            others.forEach(other -> fields.add(row.others().getOrDefault(other, "")));
            if (!named) {
              fields.add(origin);
            }
            table.add(fields);
          }
        });
    table.finish();
    List<String> notes = filled.notes();
    notes.addAll(CsvTable.notes(table.guarded()));
    long series = ExportRows.series(reader);
    if (series > 0) {
      notes.add(
          "%s series of readings over time are not in this table of points".formatted(series));
    }
    return new Exported(filled.rows, notes);
  }

  /**
   * Writes the constants of a unit: for each range the current and its dependence on load and
   * temperature, each with its uncertainty.
   *
   * @param assessment the results of a run
   * @param out the destination; flushed, not closed
   * @return how many rows were written
   */
  public static Exported constants(Assessment assessment, Writer out) {
    return CorrectionConstantsCsv.write(assessment, out);
  }
}
