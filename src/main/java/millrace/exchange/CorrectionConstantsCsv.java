// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.io.Writer;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import millrace.assessment.Assessment;
import millrace.assessment.correction.UnitCorrectionConstants;
import millrace.assessment.correction.UnitRangeCorrection;
import millrace.assessment.correction.UnitRangeCorrection.Constant;
import millrace.evidence.ComputationOutcome;
import millrace.logbook.RunStart;
import millrace.quantity.NumberText;

/** Writes the correction constants of a unit, one per row, with their uncertainty. */
final class CorrectionConstantsCsv {
  private static final List<String> HEADER =
      List.of(
          "unit",
          "origin",
          "run_uuid",
          "reference_temperature_degC",
          "range",
          "constant",
          "value",
          "unit_of_measure",
          "standard_uncertainty",
          "expanded_uncertainty",
          "coverage",
          "degrees_of_freedom",
          "missing",
          "lowest_degC",
          "highest_degC",
          "reference_V",
          "highest_V",
          "notes");

  private static final int STATED = 4;

  private final Assessment assessment;
  private final CsvTable table;
  private long rows;

  private CorrectionConstantsCsv(Assessment assessment, Writer out) {
    this.assessment = assessment;
    this.table = new CsvTable(out, HEADER);
  }

  static Exported write(Assessment assessment, Writer out) {
    UnitCorrectionConstants corrections = UnitCorrectionConstants.of(assessment);
    CorrectionConstantsCsv constants = new CorrectionConstantsCsv(assessment, out);
    corrections.ranges().forEach(constants::range);
    constants.table.finish();
    List<String> notes = new ArrayList<>();
    corrections.leftOut().forEach((range, why) -> notes.add("range " + range + ": " + why));
    if (corrections.ranges().isEmpty()) {
      notes.add("the run has no result that is a constant of the unit");
    }
    return new Exported(constants.rows, notes);
  }

  private void range(UnitRangeCorrection c) {
    row(c, bare("nominal", "A", c.nominalA()));
    c.constants(assessment.basis().coverage()).forEach(constant -> row(c, constant));
    UnitRangeCorrection.Residual left = c.residual();
    row(c, bare("error_before", "ppm", left.beforePpm()));
    row(c, bare("residual", "ppm", left.ppm()));
    row(c, bare("residual_same_instruments", "ppm", left.sameInstrumentsPpm()));
  }

  private static Constant bare(String name, String unit, double value) {
    return new Constant(name, unit, new ComputationOutcome.Value(value, Optional.empty(), 0));
  }

  private void row(UnitRangeCorrection c, Constant constant) {
    RunStart start = assessment.run().start();
    List<String> row = new ArrayList<>();
    row.add(start.unit());
    row.add(start.origin().text());
    row.add(assessment.run().uuid().toString());
    row.add(NumberText.print(c.box().referenceDegC()));
    row.add(c.range());
    row.add(constant.name());
    Optional<ComputationOutcome.Value> value =
        constant.outcome() instanceof ComputationOutcome.Value v
            ? Optional.of(v)
            : Optional.empty();
    row.add(value.map(v -> NumberText.print(v.value())).orElse(""));
    row.add(constant.unit());
    row.addAll(
        value
            .flatMap(ComputationOutcome.Value::uncertainty)
            .map(CorrectionConstantsCsv::stated)
            .orElse(Collections.nCopies(STATED, "")));
    row.add(constant.outcome() instanceof ComputationOutcome.Missing m ? m.reason() : "");
    row.add(NumberText.print(c.box().lowestDegC()));
    row.add(NumberText.print(c.box().highestDegC()));
    row.add(NumberText.print(c.box().referenceV()));
    row.add(NumberText.print(c.box().highestV()));
    row.add(String.join("; ", c.notes()));
    table.add(row);
    rows++;
  }

  private static List<String> stated(ComputationOutcome.Uncertainty u) {
    return List.of(
        NumberText.print(u.standard()),
        NumberText.print(u.expanded()),
        NumberText.print(u.coverage()),
        u.degreesOfFreedom().isPresent()
            ? NumberText.print(u.degreesOfFreedom().getAsDouble())
            : "");
  }
}
