// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.document.csv.CsvFile;
import millrace.evidence.RunOrigin;
import millrace.logbook.FileRole;
import millrace.logbook.RunInputFile;

/**
 * The result of the first pass over a whole file: it proves that every row can be imported, and
 * collects the facts needed before the first one. Immutable once made.
 */
final class ImportFirstPass {
  private final Map<String, ImportUnitFirstPass> units = new LinkedHashMap<>();
  private final long[] repeated;
  private final RunInputFile file;
  private final List<String> notes;
  private final boolean namesUnits;
  private boolean simulated;

  private ImportFirstPass(Path path, CsvFile csv) {
    ImportHeader header = ImportHeader.of(csv);
    csv.throwIfAny();
    RowReader reader = new RowReader(csv, header, unitOf(path));
    try (DuplicateRowFinder hashes = new DuplicateRowFinder()) {
      while (csv.next()) {
        hashes.add(DuplicateRowFinder.of(csv));
        reader.read().ifPresent(row -> add(row, csv, header));
      }
      if (hashes.isEmpty() && csv.faults() == 0) {
        csv.fault(0, "there is no row below the header", "a reading a row", "");
      }
      header.checkAlone(csv, reader.blanks());
      csv.throwIfAny();
      repeated = hashes.repeated();
    }
    file =
        new RunInputFile(
            FileRole.READINGS, path.getFileName().toString(), csv.sha256(), csv.bytes());
    notes = notes(header);
    namesUnits = reader.blanks().says(ImportColumn.UNIT);
  }

  private void add(ImportRow row, CsvFile csv, ImportHeader header) {
    units.computeIfAbsent(row.unit(), u -> new ImportUnitFirstPass()).add(row, csv, header);
    simulated |= RunOrigin.SIMULATED.text().equals(row.extra().get(Export.ORIGIN));
  }

  /**
   * Reads a file to its end.
   *
   * @throws millrace.fault.BadInputException with every fault found
   */
  static ImportFirstPass of(Path path) {
    try (CsvFile csv = CsvFile.open(path)) {
      return new ImportFirstPass(path, csv);
    }
  }

  private List<String> notes(ImportHeader header) {
    List<String> all = new ArrayList<>(header.notes());
    if (simulated) {
      all.add("these readings are simulated, as column '" + Export.ORIGIN + "' says");
    }
    return List.copyOf(all);
  }

  /** The name of a unit where the file states none: the name of the file. */
  static String unitOf(Path path) {
    String name = path.toAbsolutePath().getFileName().toString();
    int dot = name.lastIndexOf('.');
    return dot > 0 ? name.substring(0, dot) : name;
  }

  /** Tells whether the present row of the file is equal to another one in every column. */
  boolean isRepeated(CsvFile csv) {
    return repeated.length > 0 && Arrays.binarySearch(repeated, DuplicateRowFinder.of(csv)) >= 0;
  }

  /** The facts about each unit, in the order of the file. */
  Map<String, ImportUnitFirstPass> units() {
    return Collections.unmodifiableMap(units);
  }

  /** The file as stored in the logbook. */
  RunInputFile file() {
    return file;
  }

  /** Tells whether the file has a column for the unit. */
  boolean namesUnits() {
    return namesUnits;
  }

  /** The notes for readers. */
  List<String> notes() {
    return notes;
  }
}
