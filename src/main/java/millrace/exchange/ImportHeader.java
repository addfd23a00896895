// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import millrace.document.FileMessageText;
import millrace.document.csv.CsvFile;

/** The position of each known column in a row, and the other columns. Immutable. */
final class ImportHeader {
  private final Map<ImportColumn, Integer> known = new EnumMap<>(ImportColumn.class);
  private final Map<String, Integer> others = new LinkedHashMap<>();

  private ImportHeader(List<String> names) {
    for (int i = 0; i < names.size(); i++) {
      String name = names.get(i);
      Optional<ImportColumn> column =
          Arrays.stream(ImportColumn.values()).filter(c -> c.header().equals(name)).findFirst();
      if (column.isPresent()) {
        known.put(column.get(), i);
      } else {
        others.put(name, i);
      }
    }
  }

  /** Reads the header of a file and notes its faults. */
  static ImportHeader of(CsvFile csv) {
    ImportHeader header = new ImportHeader(csv.header());
    if (csv.header().size() == 1) {
      header.checkSeparator(csv);
    }
    for (ImportColumn column : ImportColumn.values()) {
      if (column.needed() && !header.has(column)) {
        csv.fault(0, header.missing(column), expected(), header.remedy(column));
      }
      ImportColumn.without(column).stream()
          .filter(dependent -> header.has(dependent) && !header.has(column))
          .forEach(dependent -> header.alone(csv, dependent, column));
    }
    return header;
  }

  private void checkSeparator(CsvFile csv) {
    String line = csv.header().get(0);
    String separator = line.contains(";") ? "semicolons" : line.contains("\t") ? "tabs" : "";
    if (!separator.isEmpty()) {
      csv.fault(
          0,
          "the columns are separated by " + separator,
          "commas",
          "Save the file with commas between columns and points in numbers.");
      csv.throwIfAny();
    }
  }

  private String missing(ImportColumn column) {
    return "column " + FileMessageText.quoted(column.header()) + " is missing";
  }

  private static String expected() {
    return Arrays.stream(ImportColumn.values())
        .filter(ImportColumn::needed)
        .map(ImportColumn::header)
        .collect(Collectors.joining(", ", "a header with ", " and any others"));
  }

  private String remedy(ImportColumn column) {
    return FileMessageText.nearest(column.header(), others.keySet())
        .map(
            near ->
                "Did you mean it by " + FileMessageText.quoted(near) + "? Then rename that column.")
        .orElse("Add it, or check that this is the file you meant.");
  }

  private void alone(CsvFile csv, ImportColumn dependent, ImportColumn column) {
    csv.fault(
        known.get(dependent),
        "column "
            + FileMessageText.quoted(dependent.header())
            + " is there without what it belongs to",
        "column " + FileMessageText.quoted(column.header()) + " beside it",
        "");
  }

  boolean has(ImportColumn column) {
    return known.containsKey(column);
  }

  /** The place of a column in a row, from 0. */
  int index(ImportColumn column) {
    return known.getOrDefault(column, 0);
  }

  /** The places of all columns of a row but those of some. */
  int[] without(Set<ImportColumn> some) {
    Set<Integer> left =
        known.entrySet().stream()
            .filter(each -> some.contains(each.getKey()))
            .map(Map.Entry::getValue)
            .collect(Collectors.toSet());
    return IntStream.range(0, known.size() + others.size())
        .filter(column -> !left.contains(column))
        .toArray();
  }

  /** The text of a column in a row, without surrounding blanks; empty if the column is missing. */
  Optional<String> text(CsvFile row, ImportColumn column) {
    Integer index = known.get(column);
    return index == null ? Optional.empty() : Optional.of(row.field(index).strip());
  }

  /** The unknown columns, with their position in a row. */
  Map<String, String> others(CsvFile row) {
    if (others.isEmpty()) {
      return Map.of();
    }
    Map<String, String> fields = new LinkedHashMap<>();
    others.forEach((name, index) -> fields.put(name, row.field(index)));
    return fields;
  }

  /** The note for readers about unknown columns, in one line: stored, but perhaps misspelt. */
  List<String> notes() {
    List<String> unknown =
        others.keySet().stream().filter(name -> !name.equals(Export.ORIGIN)).toList();
    if (unknown.isEmpty()) {
      return List.of();
    }
    boolean one = unknown.size() == 1;
    List<String> named = new ArrayList<>();
    for (String name : unknown) {
      named.add(
          FileMessageText.quoted(name)
              + FileMessageText.nearest(name, ImportColumn.headers())
                  .filter(near -> known.keySet().stream().noneMatch(c -> c.header().equals(near)))
                  .map(near -> " (did you mean " + FileMessageText.quoted(near) + "?)")
                  .orElse(""));
    }
    return List.of(
        "%s %s %s kept but not used"
            .formatted(one ? "column" : "columns", String.join(", ", named), one ? "is" : "are"));
  }

  /** A column that has no meaning without another one, which is empty in every row. */
  void checkAlone(CsvFile csv, EmptyColumns blanks) {
    for (ImportColumn column : ImportColumn.values()) {
      ImportColumn.without(column).stream()
          .filter(dependent -> blanks.says(dependent) && has(column) && !blanks.says(column))
          .forEach(dependent -> alone(csv, dependent, column));
    }
  }
}
