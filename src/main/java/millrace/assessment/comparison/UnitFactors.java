// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.document.FileMessageText;
import millrace.document.csv.CsvFile;
import millrace.quantity.NumberText;

/**
 * A user's table of factors of units, such as the reel of a part: one column per factor, one row
 * per unit.
 *
 * @param factors in the order of the columns
 * @param rows by serial number, one group per factor; an empty text if the table has no entry
 */
public record UnitFactors(List<ComparisonFactor> factors, Map<String, List<String>> rows) {
  /** No table. */
  public static final UnitFactors NONE = new UnitFactors(List.of(), Map.of());

  private static final String UNIT = "unit";

  /** Copies the collections. */
  public UnitFactors {
    factors = List.copyOf(factors);
    rows = Map.copyOf(rows);
  }

  /**
   * Reads a table: CSV (IETF, RFC 4180, 2005) with a column {@code unit} that holds serial numbers,
   * each once, and at least one column more.
   *
   * @param file the table
   * @return its content
   * @throws millrace.fault.BadInputException with every fault and its place
   */
  public static UnitFactors read(Path file) {
    try (CsvFile csv = CsvFile.open(file)) {
      int unit = csv.header().indexOf(UNIT);
      headed(csv, unit);
      csv.throwIfAny();
      Map<String, List<String>> rows = rows(csv, unit);
      csv.throwIfAny();
      return new UnitFactors(
          others(csv.header(), unit).stream().map(ComparisonFactor::own).toList(), rows);
    }
  }

  private static List<String> others(List<String> fields, int unit) {
    List<String> others = new ArrayList<>(fields);
    others.remove(unit);
    return others;
  }

  private static void headed(CsvFile csv, int unit) {
    List<String> header = csv.header();
    if (unit < 0) {
      csv.fault(0, "no column is named 'unit'", "one with serial numbers", "Name it 'unit'.");
    } else if (header.size() == 1) {
      csv.fault(0, "'unit' is the only column", "at least one factor", "Add a column, as 'reel'.");
    }
    for (ComparisonFactor known : NONE.onDemand()) {
      int column = header.indexOf(known.text());
      if (column >= 0) {
        csv.fault(
            column,
            "column %s is known from the logbook".formatted(FileMessageText.quoted(known.text())),
            "factors that the logbook does not know",
            "Rename or delete it.");
      }
    }
  }

  private static Map<String, List<String>> rows(CsvFile csv, int unit) {
    Map<String, List<String>> rows = new HashMap<>();
    Map<String, Long> lines = new HashMap<>();
    while (csv.next()) {
      List<String> fields = new ArrayList<>();
      for (int i = 0; i < csv.header().size(); i++) {
        fields.add(csv.field(i).strip());
      }
      String serial = fields.get(unit);
      if (serial.isEmpty()) {
        csv.fault(unit, "the row names no unit", "a serial number", "Fill it in.");
        continue;
      }
      Long first = lines.putIfAbsent(serial, csv.line());
      if (first != null) {
        csv.fault(
            unit,
            "unit %s is there twice, first in line %s"
                .formatted(FileMessageText.quoted(serial), first),
            "one row a unit",
            "Delete one.");
      }
      rows.put(serial, others(fields, unit));
    }
    return rows;
  }

  /**
   * All factors that can group runs.
   *
   * @return those of the logbook, then these
   */
  public List<ComparisonFactor> withThoseOfRuns() {
    List<ComparisonFactor> all = new ArrayList<>(ComparisonFactor.OF_RUNS);
    all.addAll(factors);
    return all;
  }

  /**
   * All factors that a person can ask for.
   *
   * @return those of the logbook, then these
   */
  public List<ComparisonFactor> onDemand() {
    List<ComparisonFactor> all = withThoseOfRuns();
    all.addAll(ComparisonFactor.OF_RUNS.size(), ComparisonFactor.ON_DEMAND);
    return all;
  }

  /** The group of a unit; empty if the table does not name the unit. */
  Optional<String> of(ComparisonFactor factor, String unit) {
    return Optional.ofNullable(rows.get(unit)).map(row -> row.get(factors.indexOf(factor)));
  }

  /**
   * A note on compared units that the table does not name.
   *
   * @param units serial numbers
   * @return a sentence without its full stop; empty if the table names each of them
   */
  Optional<String> silentOf(List<String> units) {
    long silent = units.stream().filter(u -> !rows.containsKey(u)).count();
    return factors.isEmpty() || silent == 0
        ? Optional.empty()
        : Optional.of(
            "the table of factors does not name %s of %s"
                .formatted(silent, NumberText.counted(units.size(), "unit")));
  }
}
