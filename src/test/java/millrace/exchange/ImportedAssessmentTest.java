// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.OptionalDouble;
import java.util.function.IntToDoubleFunction;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ErrorDistribution;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.quantity.NumberText;
import org.junit.jupiter.api.Test;

/** What an import states of its errors reaches the results as it was meant. */
class ImportedAssessmentTest extends Importing {
  private Assessment assessment;

  private ComputationOutcome.Value conductance(IntToDoubleFunction uCommonA) throws IOException {
    StringBuilder csv =
        new StringBuilder("unit,range,nominal_A,load_ohm,u_current_A,u_common_A,current_A\n");
    for (int load = 0; load <= 4000; load += 500) {
      csv.append("U,1mA,0.001,").append(load).append(",1e-10,");
      csv.append(NumberText.print(uCommonA.applyAsDouble(load))).append(',');
      csv.append(NumberText.print(1e-3 - 1e-9 * load * 1e-3)).append('\n');
    }
    ImportedRun run = imports(csv.toString()).get(0);
    Result found =
        Assessor.assess(logbook.reader(run.run())).results().stream()
            .filter(r -> r.quantity() == ResultQuantity.OUTPUT_CONDUCTANCE)
            .findFirst()
            .orElseThrow();
    assertTrue(found.outcome() instanceof ComputationOutcome.Value, found.toString());
    return (ComputationOutcome.Value) found.outcome();
  }

  /** An error shared by a group cancels in a slope, also where rows state slightly other sizes. */
  @Test
  void aCommonErrorCancelsInASlopeAlsoWhereItsSizeDiffersFromRowToRow() throws IOException {
    double same = conductance(load -> 1e-7).uncertainty().orElseThrow().standard();
    double nearly =
        conductance(load -> 1e-7 * (1 - 1e-8 * load)).uncertainty().orElseThrow().standard();
    assertEquals(same, nearly, 0.01 * same);
  }

  @Test
  void aSeriesOverTimeAloneCanBeAssessed() throws IOException {
    StringBuilder csv = new StringBuilder("unit,range,nominal_A,load_ohm,time_s,current_A\n");
    for (int i = 0; i < 200; i++) {
      csv.append("U,1mA,0.001,100,").append(i).append(",0.00100000").append(i % 7).append('\n');
    }
    ImportedRun run = imports(csv.toString()).get(0);
    assertFalse(Assessor.assess(logbook.reader(run.run())).results().isEmpty());
  }

  private Result current(String columns, String values) throws IOException {
    StringBuilder csv = new StringBuilder("unit,range,nominal_A,load_ohm,current_A" + columns);
    for (int load = 0; load <= 4000; load += 500) {
      csv.append("\nU,1mA,0.001,").append(load).append(",0.001").append(values);
    }
    ImportedRun run = imports(csv.append('\n').toString()).get(0);
    assessment = Assessor.assess(logbook.reader(run.run()));
    return assessment.results().stream()
        .filter(r -> r.quantity() == ResultQuantity.CURRENT)
        .findFirst()
        .orElseThrow();
  }

  @Test
  void theShapeOfAStatedUncertaintyReachesTheBudget() throws IOException {
    Result found =
        current(",u_current_A,u_distribution,u_degrees_of_freedom", ",1e-9,rectangular,4");

    assertTrue(
        found.budget().stream()
            .anyMatch(
                c ->
                    c.distribution() == ErrorDistribution.RECTANGULAR
                        && c.degreesOfFreedom().equals(OptionalDouble.of(4))),
        found.budget().toString());
  }

  @Test
  void saysWhereNoUncertaintyWasStated() throws IOException {
    current("", "");
    assertTrue(
        assessment.notes().stream()
            .anyMatch(n -> n.startsWith("range 1mA: no instrument uncertainty was stated")),
        assessment.notes().toString());

    current(",u_common_A", ",1e-9");
    assertFalse(assessment.notes().toString().contains("no instrument uncertainty"));
  }
}
