// SPDX-License-Identifier: Apache-2.0
package millrace.cli.result;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import millrace.analysis.response.PredictionCondition;
import millrace.assessment.Predictions.Asked;
import millrace.document.FileMessageText;
import millrace.document.csv.CsvFile;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.quantity.NumberText;

/** Reads the conditions for {@code predict --at}, one per row. */
final class PredictionConditionsFile {
  private static final String RANGE = "range";
  private static final String TEMPERATURE = "temperature_degC";
  private static final String LOAD = "load_ohm";
  private static final String VOLTAGE = "terminal_voltage_V";
  private static final String SUPPLY = "supply_V";
  private static final String TIME = "time_s";
  private static final List<String> COLUMNS =
      List.of(RANGE, TEMPERATURE, LOAD, VOLTAGE, SUPPLY, TIME);

  private final CsvFile csv;
  private final List<String> ranges;

  private PredictionConditionsFile(CsvFile csv, List<String> ranges) {
    this.csv = csv;
    this.ranges = ranges;
  }

  /**
   * Reads a file.
   *
   * @param path the file
   * @param ranges the allowed names of ranges
   * @return the conditions in order
   * @throws BadInputException with every fault and its place
   */
  static List<Asked> read(Path path, List<String> ranges) {
    try (CsvFile csv = CsvFile.open(path)) {
      PredictionConditionsFile file = new PredictionConditionsFile(csv, ranges);
      file.checkHeader(path);
      List<Asked> all = new ArrayList<>();
      while (csv.next()) {
        file.row(all);
      }
      csv.throwIfAny();
      return all;
    }
  }

  private void checkHeader(Path path) {
    List<InputFault> faults = new ArrayList<>();
    FilePlace place = new FilePlace(path.toString(), 1, 1);
    for (String column : csv.header()) {
      if (!COLUMNS.contains(column)) {
        faults.add(
            new InputFault(
                place,
                "column '%s' is not known".formatted(column),
                "some of " + FileMessageText.oneOf(COLUMNS),
                ("Rename or delete it. " + FileMessageText.didYouMean(column, COLUMNS)).strip()));
      }
    }
    for (String needed : List.of(RANGE, TEMPERATURE)) {
      if (!csv.header().contains(needed)) {
        faults.add(
            new InputFault(place, "no column '%s'".formatted(needed), "one", "Add the column."));
      }
    }
    if (!csv.header().contains(LOAD) && !csv.header().contains(VOLTAGE)) {
      faults.add(
          new InputFault(
              place,
              "neither '%s' nor '%s'".formatted(LOAD, VOLTAGE),
              "one of them",
              "Add the column."));
    }
    if (!faults.isEmpty()) {
      throw new BadInputException(faults);
    }
  }

  private void row(List<Asked> into) {
    long before = csv.faults();
    String range = cell(RANGE);
    if (!ranges.contains(range)) {
      csv.fault(
          csv.header().indexOf(RANGE),
          "range '%s' was not measured in this run".formatted(range),
          FileMessageText.oneOf(ranges),
          ("Correct it. " + FileMessageText.didYouMean(range, ranges)).strip());
    }
    OptionalDouble degC = number(TEMPERATURE, true);
    OptionalDouble ohm = number(LOAD, false);
    OptionalDouble volts = number(VOLTAGE, false);
    if (ohm.isPresent() == volts.isPresent() && csv.faults() == before) {
      csv.fault(
          Math.max(csv.header().indexOf(VOLTAGE), csv.header().indexOf(LOAD)),
          ohm.isPresent() ? "a load and a voltage" : "neither a load nor a voltage",
          "one of them",
          "Leave the other empty.");
    }
    if (ohm.isPresent() && ohm.getAsDouble() < 0) {
      csv.fault(csv.header().indexOf(LOAD), "a load below 0 ohm", "0 or more", "Correct it.");
    }
    OptionalDouble supply = number(SUPPLY, false);
    OptionalDouble time = number(TIME, false);
    if (csv.faults() == before) {
      into.add(
          new Asked(range, new PredictionCondition(degC.orElseThrow(), volts, ohm, supply, time)));
    }
  }

  private String cell(String column) {
    int at = csv.header().indexOf(column);
    return at < 0 ? "" : csv.field(at).strip();
  }

  private OptionalDouble number(String column, boolean needed) {
    String text = cell(column);
    int at = csv.header().indexOf(column);
    if (text.isEmpty()) {
      if (needed) {
        csv.fault(at, "an empty cell", "a number", "Fill it in.");
      }
      return OptionalDouble.empty();
    }
    OptionalDouble value = NumberText.parse(text);
    if (value.isPresent() && Double.isFinite(value.getAsDouble())) {
      return value;
    }
    csv.fault(at, "'%s'".formatted(text), "a number with a decimal point", "Correct it.");
    return OptionalDouble.empty();
  }
}
