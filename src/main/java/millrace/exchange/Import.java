// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.document.csv.CsvFile;
import millrace.evidence.RunOrigin;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.LogbookException;
import millrace.fault.MillraceException;
import millrace.logbook.FileRole;
import millrace.logbook.GroupedTransactions;
import millrace.logbook.Logbook;
import millrace.logbook.RunFacts;
import millrace.logbook.RunStart;
import millrace.logbook.RunWriter;

/**
 * Imports readings taken elsewhere from a CSV file into a logbook: one run per unit, of origin
 * {@code imported}.
 *
 * <p>The file is read twice, row by row, so that its length is not limited: the first pass finds
 * every fault before anything is written, the second pass writes. Required columns: {@code range},
 * {@code nominal_A}, {@code current_A}; the others are those of an export and are listed in the
 * user's guide. A row is a reading; consecutive rows of a unit that are equal in range, load
 * (without it: terminal voltage), temperature, direction, supply and set current are one point,
 * unless a column {@code point} names the points. An entry of {@code current_A} that is empty, NaN,
 * infinite or an overload is stored and its point flagged; in every other column it is a fault. One
 * thread.
 */
public final class Import {
  /** Rows between two commits: other writers of the logbook wait for no more than these. */
  private static final int ROWS_A_COMMIT = 250_000;

  private final Path path;
  private final ImportFirstPass survey;

  private Import(Path path, ImportFirstPass survey) {
    this.path = path;
    this.survey = survey;
  }

  /** The validated file with the limits and the reference temperature. Immutable. */
  public static final class Attached {
    private final String name;
    private final byte[] content;

    /**
     * A file with its content.
     *
     * @param name the name as given by the user
     * @param content its bytes
     */
    public Attached(String name, byte[] content) {
      this.name = name;
      this.content = content.clone();
    }

    /**
     * Its name.
     *
     * @return the name as given by the user
     */
    public String name() {
      return name;
    }

    /**
     * Its content.
     *
     * @return a copy
     */
    public byte[] content() {
      return content.clone();
    }
  }

  /**
   * The settings of an import.
   *
   * @param datasheet stored with each run; may be absent
   * @param people operator, batch and tag of all runs, where the file states none
   * @param bench the bench of the readings, where the file states none
   * @param cautions further notes for readers by unit, whole sentences; a unit without any may be
   *     absent
   * @param millrace the version of Millrace
   * @param now wall clock: the start of runs whose file has no times
   * @param offset the offset of local time from UTC, where the file states none
   */
  public record Circumstances(
      Optional<Attached> datasheet,
      RunStart.People people,
      Optional<String> bench,
      Map<String, List<String>> cautions,
      String millrace,
      Instant now,
      ZoneOffset offset) {
    /** Copies the map. */
    public Circumstances {
      cautions = Map.copyOf(cautions);
    }
  }

  /**
   * Reads the whole file and finds its faults.
   *
   * @param csv the file: RFC 4180, UTF-8, a byte-order mark is accepted
   * @return the file, ready to be imported
   * @throws BadInputException with the first faults by line and column, and the number of further
   *     faults
   */
  public static Import check(Path csv) {
    return new Import(csv, ImportFirstPass.of(csv));
  }

  /**
   * The units in the file.
   *
   * @return serial numbers in the order of the file; without a column for them one, the name of the
   *     file
   */
  public List<String> units() {
    return List.copyOf(survey.units().keySet());
  }

  /**
   * The ranges of a unit.
   *
   * @param unit one of {@link #units}
   * @return nominal current by range, A
   */
  public Map<String, Double> nominalsA(String unit) {
    ImportUnitFirstPass found = survey.units().get(unit);
    return found == null ? Map.of() : found.nominals();
  }

  /**
   * Writes the readings.
   *
   * @param logbook open for writing
   * @param with the settings of the runs
   * @return the new runs, in the order of the units
   * @throws BadInputException if the file changed after the check; runs begun by then are marked as
   *     failed
   * @throws LogbookException if the logbook cannot be written
   */
  public List<ImportedRun> into(Logbook logbook, Circumstances with) {
    Map<String, ImportedUnitWriter> writers = new LinkedHashMap<>();
    try {
      return write(logbook, with, writers);
    } catch (MillraceException e) {
      abandon(writers, e);
      throw e;
    } finally {
      writers.values().forEach(ImportedUnitWriter::close);
    }
  }

  private List<ImportedRun> write(
      Logbook logbook, Circumstances with, Map<String, ImportedUnitWriter> writers) {
    try (GroupedTransactions groupedTransactions = logbook.bulk(ROWS_A_COMMIT)) {
      survey.units().forEach((unit, found) -> writers.put(unit, begin(logbook, unit, with)));
      writeRows(writers, groupedTransactions);
      List<ImportedRun> runs = new ArrayList<>();
      writers.forEach((unit, writer) -> runs.add(writer.end(notes(unit, with))));
      groupedTransactions.finish();
      return runs;
    }
  }

  /** Part of a file longer than one transaction may already be stored. */
  private static void abandon(Map<String, ImportedUnitWriter> writers, MillraceException first) {
    for (ImportedUnitWriter each : writers.values()) {
      try {
        each.fail();
      } catch (LogbookException later) {
        first.addSuppressed(later);
      }
    }
  }

  private ImportedUnitWriter begin(Logbook logbook, String unit, Circumstances with) {
    ImportUnitFirstPass found = survey.units().getOrDefault(unit, new ImportUnitFirstPass());
    RunWriter writer =
        logbook.begin(
            new RunStart(
                unit,
                RunOrigin.IMPORTED,
                survey.file().name(),
                new RunStart.People(
                    found.belongs().operator().or(with.people()::operator),
                    found.belongs().batch().or(with.people()::batch),
                    found.belongs().tag().or(with.people()::tag)),
                Optional.empty(),
                with.millrace(),
                found.start().map(s -> s.toInstant()).orElse(with.now()),
                found.start().map(s -> s.getOffset()).orElse(with.offset()),
                facts(found, with)));
    boolean done = false;
    try {
      keepFiles(writer, with);
      done = true;
      return new ImportedUnitWriter(writer, unit, found, with.now());
    } finally {
      if (!done) {
        writer.close();
      }
    }
  }

  private RunFacts facts(ImportUnitFirstPass found, Circumstances with) {
    return RunFacts.NONE.imported(
        survey.file().name(),
        with.now().atOffset(with.offset()).toLocalDate(),
        found.start().isPresent(),
        found.belongs().bench().or(with::bench));
  }

  private void keepFiles(RunWriter writer, Circumstances with) {
    try (InputStream content = Files.newInputStream(path)) {
      writer.file(survey.file(), content);
    } catch (IOException e) {
      throw changed();
    }
    with.datasheet().ifPresent(d -> writer.file(FileRole.DATASHEET, d.name(), d.content()));
  }

  private void writeRows(
      Map<String, ImportedUnitWriter> writers, GroupedTransactions groupedTransactions) {
    try (CsvFile csv = CsvFile.open(path)) {
      ImportHeader header = ImportHeader.of(csv);
      RowReader reader = new RowReader(csv, header, ImportFirstPass.unitOf(path));
      try (RowsAhead rows = new RowsAhead(csv, reader, survey, this::changed)) {
        List<RowsAhead.Row> piece = rows.next();
        while (!piece.isEmpty()) {
          piece.forEach(row -> groupedTransactions.wrote(written(row, writers)));
          piece = rows.next();
        }
      }
      if (csv.faults() > 0 || !csv.sha256().equals(survey.file().sha256())) {
        throw changed();
      }
    }
  }

  private long written(RowsAhead.Row row, Map<String, ImportedUnitWriter> writers) {
    return Optional.ofNullable(writers.get(row.row().unit()))
        .orElseThrow(this::changed)
        .add(row.row(), row.repeated());
  }

  private BadInputException changed() {
    return new BadInputException(
        new InputFault(
            FilePlace.of(path.toString()),
            "the file changed while it was imported",
            "a file that nothing else writes",
            "Import it again."));
  }

  private List<String> notes(String unit, Circumstances with) {
    List<String> notes = new ArrayList<>(with.cautions().getOrDefault(unit, List.of()));
    notes.addAll(survey.notes());
    if (!survey.namesUnits()) {
      notes.add("the file names no unit, so the unit is called '" + unit + "' as the file is");
    }
    return notes;
  }
}
