// SPDX-License-Identifier: Apache-2.0
package millrace.document.csv;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;

/**
 * The faults of a CSV file: the first ones with line and column, the rest as a count. Columns are
 * located only for display. Single-threaded.
 */
final class CsvFaults {
  private record Noted(long line, int field, InputFault fault) {}

  private final Path path;
  private final List<Noted> first = new ArrayList<>();
  private long count;

  CsvFaults(Path path) {
    this.path = path;
  }

  /**
   * Notes a fault; its place is found later.
   *
   * @param line the line that the row begins in, from 1
   * @param field the field, from 0
   * @param fault the fault, its place not looked at
   */
  void add(long line, int field, InputFault fault) {
    count++;
    if (first.size() < BadInputException.SHOWN) {
      first.add(new Noted(line, field, fault));
    }
  }

  long count() {
    return count;
  }

  void throwIfAny() {
    if (count > 0) {
      throw new BadInputException(placed(), count - first.size());
    }
  }

  private List<InputFault> placed() {
    CsvFieldPlaces places =
        new CsvFieldPlaces(first.stream().map(Noted::line).collect(Collectors.toSet()));
    try (BufferedReader in = Files.newBufferedReader(path, StandardCharsets.UTF_8)) {
      places.read(in);
    } catch (IOException e) {
      // Malformed bytes, or a file that disappeared: the earlier places are known, the others name
      // whole lines.
      return placed(places);
    }
    return placed(places);
  }

  private List<InputFault> placed(CsvFieldPlaces places) {
    return first.stream()
        .map(
            each ->
                new InputFault(
                    place(each, places),
                    each.fault().found(),
                    each.fault().expected(),
                    each.fault().remedy()))
        .toList();
  }

  private FilePlace place(Noted noted, CsvFieldPlaces places) {
    CsvFieldPlaces.Spot spot = places.spot(noted.line(), noted.field());
    return new FilePlace(
        path.toString(), (int) Math.min(spot.line(), Integer.MAX_VALUE), spot.column());
  }
}
