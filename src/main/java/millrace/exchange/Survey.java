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
import millrace.evidence.Origin;
import millrace.logbook.FileRole;
import millrace.logbook.RunFile;

/**
 * What the first reading of a whole file found: that every row can be imported, and what has to be
 * known before the first one is. Immutable once made.
 */
final class Survey {
  private final Map<String, UnitSurvey> units = new LinkedHashMap<>();
  private final long[] repeated;
  private final RunFile file;
  private final List<String> notes;
  private final boolean namesUnits;
  private boolean simulated;

  private Survey(Path path, CsvFile csv) {
    Header header = Header.of(csv);
    csv.throwIfAny();
    RowReader reader = new RowReader(csv, header, unitOf(path));
    RowHashes hashes = new RowHashes();
    while (csv.next()) {
      hashes.add(RowHashes.of(csv));
      reader.read().ifPresent(row -> add(row, csv, header));
    }
    if (hashes.isEmpty() && csv.faults() == 0) {
      csv.fault(0, "there is no row below the header", "a reading a row", "");
    }
    header.checkAlone(csv, reader.blanks());
    csv.throwIfAny();
    repeated = hashes.repeated();
    file = new RunFile(FileRole.READINGS, path.getFileName().toString(), csv.sha256(), csv.bytes());
    notes = notes(header);
    namesUnits = reader.blanks().says(Column.UNIT);
  }

  private void add(ImportRow row, CsvFile csv, Header header) {
    units.computeIfAbsent(row.unit(), u -> new UnitSurvey()).add(row, csv, header);
    simulated |= Origin.SIMULATED.text().equals(row.extra().get(Export.ORIGIN));
  }

  /**
   * Reads a file to its end.
   *
   * @throws millrace.fault.BadInputException with every fault found
   */
  static Survey of(Path path) {
    try (CsvFile csv = CsvFile.open(path)) {
      return new Survey(path, csv);
    }
  }

  private List<String> notes(Header header) {
    List<String> all = new ArrayList<>(header.notes());
    if (simulated) {
      all.add("these readings are simulated, as column '" + Export.ORIGIN + "' says");
    }
    return List.copyOf(all);
  }

  /** What a unit is called whose file does not say: as the file. */
  static String unitOf(Path path) {
    String name = path.toAbsolutePath().getFileName().toString();
    int dot = name.lastIndexOf('.');
    return dot > 0 ? name.substring(0, dot) : name;
  }

  boolean isRepeated(long hash) {
    return repeated.length > 0 && Arrays.binarySearch(repeated, hash) >= 0;
  }

  /** What is known of each unit, in the order of the file. */
  Map<String, UnitSurvey> units() {
    return Collections.unmodifiableMap(units);
  }

  /** The file as the logbook keeps it. */
  RunFile file() {
    return file;
  }

  /** Tells whether the file has a column for the unit. */
  boolean namesUnits() {
    return namesUnits;
  }

  /** What a reader should know. */
  List<String> notes() {
    return notes;
  }
}
