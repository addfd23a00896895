package millrace.exchange;

import java.io.Writer;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import millrace.assessment.Assessment;
import millrace.evidence.Outcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.logbook.RunStart;
import millrace.quantity.Numbers;

/** The constants by which a unit is corrected, one a row, with their uncertainty. */
final class Constants {
  private static final Set<ResultQuantity> QUANTITIES =
      EnumSet.of(
          ResultQuantity.CURRENT,
          ResultQuantity.OUTPUT_CONDUCTANCE,
          ResultQuantity.TEMPCO,
          ResultQuantity.TEMPCO_QUADRATIC_A,
          ResultQuantity.TEMPCO_QUADRATIC_B,
          ResultQuantity.GAIN_ERROR,
          ResultQuantity.OFFSET_ERROR);

  private static final List<String> HEADER =
      List.of(
          "unit",
          "origin",
          "run_uuid",
          "reference_temperature_degC",
          "range",
          "quantity",
          "at",
          "value",
          "unit_of_measure",
          "ppm_base",
          "standard_uncertainty",
          "expanded_uncertainty",
          "coverage",
          "degrees_of_freedom",
          "bound",
          "missing",
          "notes");

  private Constants() {}

  static Export.Exported write(Assessment assessment, Writer out) {
    CsvTable table = new CsvTable(out, HEADER);
    List<Result> constants =
        assessment.results().stream().filter(r -> QUANTITIES.contains(r.quantity())).toList();
    constants.forEach(constant -> table.add(row(assessment, constant)));
    table.finish();
    List<String> notes =
        constants.isEmpty()
            ? List.of("the run has no result that is a constant of the unit")
            : List.of();
    return new Export.Exported(constants.size(), notes);
  }

  private static List<String> row(Assessment assessment, Result result) {
    RunStart start = assessment.run().start();
    List<String> row = new ArrayList<>();
    row.add(start.unit());
    row.add(start.origin().text());
    row.add(assessment.run().uuid().toString());
    row.add(Numbers.print(assessment.basis().referenceDegC()));
    row.add(result.range().orElse(""));
    row.add(result.quantity().key());
    row.add(at(result));
    List<String> outcome = result.outcome().accept(new Fields());
    row.add(outcome.get(0));
    row.add(result.quantity().unit());
    row.add(result.ppmBase().orElse(""));
    row.addAll(outcome.subList(1, outcome.size()));
    row.add(String.join("; ", result.notes()));
    return row;
  }

  private static String at(Result result) {
    return result.at().all().entrySet().stream()
        .map(
            each ->
                each.getKey().text()
                    + "="
                    + (each.getValue() instanceof Double number
                        ? Numbers.print(number)
                        : each.getValue().toString()))
        .collect(Collectors.joining("; "));
  }

  /** Value, u, U, coverage, degrees of freedom, bound, missing; empty where there is none. */
  private static final class Fields implements Outcome.Visitor<List<String>> {
    private static final int STATED = 4;

    @Override
    public List<String> value(Outcome.Value value) {
      List<String> fields = new ArrayList<>(List.of(Numbers.print(value.value())));
      fields.addAll(
          value.uncertainty().map(Fields::stated).orElse(Collections.nCopies(STATED, "")));
      fields.addAll(List.of("", ""));
      return fields;
    }

    private static List<String> stated(Outcome.Uncertainty u) {
      return List.of(
          Numbers.print(u.standard()),
          Numbers.print(u.expanded()),
          Numbers.print(u.coverage()),
          u.degreesOfFreedom().isPresent()
              ? Numbers.print(u.degreesOfFreedom().getAsDouble())
              : "");
    }

    @Override
    public List<String> bound(Outcome.Bound bound) {
      List<String> fields = new ArrayList<>(List.of(Numbers.print(bound.value())));
      fields.addAll(Collections.nCopies(STATED, ""));
      fields.addAll(List.of(bound.side().text(), ""));
      return fields;
    }

    @Override
    public List<String> missing(Outcome.Missing missing) {
      List<String> fields = new ArrayList<>(Collections.nCopies(STATED + 2, ""));
      fields.add(missing.reason());
      return fields;
    }
  }
}
