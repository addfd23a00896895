// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.List;
import java.util.Random;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.quantity.NumberText;
import org.junit.jupiter.api.Test;

/**
 * One wild reading among 66 of an import, with 0.5 ppm stated of each: it moved a tempco by 12 U
 * and bent a load line into a knee at 1 V, while its repeat was fine.
 */
class WildImportTest extends Importing {
  private static final double SLOPE_PPM_PER_K = 2;
  private static final int[] DEG_C = {5, 23, 55};

  /** Three temperatures, eleven loads up and down; what is added to one of them is in ppm. */
  private Assessment assessed(double atDegC, int atOhm, boolean up, double... addedPpm)
      throws IOException {
    Random random = new Random(66);
    StringBuilder csv =
        new StringBuilder(
            "unit,range,nominal_A,temperature_degC,load_ohm,direction,u_current_A,current_A\n");
    for (int degC : DEG_C) {
      for (int k = 0; k < 22; k++) {
        boolean rising = k < 11;
        int ohm = 1000 * (rising ? k : 21 - k);
        boolean hit = degC == atDegC && ohm == atOhm;
        double added = !hit ? 0 : rising == up ? addedPpm[0] : addedPpm[addedPpm.length - 1];
        added = hit && rising != up && addedPpm.length == 1 ? 0 : added;
        double ppm = SLOPE_PPM_PER_K * (degC - 23) - 1e-3 * ohm + 0.5 * random.nextGaussian();
        csv.append("U,1mA,0.001,%s,%s,%s,5e-10,".formatted(degC, ohm, rising ? "up" : "down"))
            .append(NumberText.print(1e-3 * (1 + (ppm + added) * 1e-6)))
            .append('\n');
      }
    }
    return Assessor.assess(logbook.reader(imports(csv.toString()).get(0).run()));
  }

  private static Result of(Assessment found, ResultQuantity quantity) {
    return found.results().stream().filter(r -> r.quantity() == quantity).findFirst().orElseThrow();
  }

  @Test
  void isLeftOutAndShownWithAndWithout() throws IOException {
    Assessment found = assessed(55, 0, true, 20);
    String notes = String.join("\n", found.notes());

    assertTrue(notes.contains("suspect, left out: 19.7 nA"), notes);
    assertTrue(notes.contains("off its repeat"), notes);
    assertTrue(notes.contains("the mean there with it is"), notes);
    assertEquals(1, found.notes().stream().filter(n -> n.contains("suspect")).count(), notes);
    ComputationOutcome.Value slope =
        assertInstanceOf(
            ComputationOutcome.Value.class, of(found, ResultQuantity.TEMPCO).outcome());
    assertEquals(
        SLOPE_PPM_PER_K, slope.value(), 1.5 * slope.uncertainty().orElseThrow().expanded());
    assertTrue(
        of(found, ResultQuantity.TEMPCO).notes().toString().contains("with them"),
        of(found, ResultQuantity.TEMPCO).notes().toString());
  }

  @Test
  void inventsNoKnee() throws IOException {
    Assessment found = assessed(55, 0, true, 20);
    List<Result> compliance =
        found.results().stream()
            .filter(r -> r.quantity() == ResultQuantity.COMPLIANCE_VOLTAGE)
            .toList();
    notEmpty(compliance)
        .forEach(r -> assertInstanceOf(ComputationOutcome.Bound.class, r.outcome(), r.toString()));
    List<Result> knees =
        found.results().stream().filter(r -> r.quantity() == ResultQuantity.KNEE_VOLTAGE).toList();
    notEmpty(knees)
        .forEach(
            r -> assertInstanceOf(ComputationOutcome.Missing.class, r.outcome(), r.toString()));
  }

  /** Both lie off by as much on either side of what the loads beside say. */
  @Test
  void widensBothWhereNothingTellsWhichIsOff() throws IOException {
    Assessment found = assessed(55, 5000, true, 12, -12);
    String notes = String.join("\n", found.notes());
    assertTrue(notes.contains("nothing tells which is off"), notes);
    assertFalse(notes.contains("left out"), notes);
    assertTrue(
        found.results().stream()
            .flatMap(r -> r.budget().stream())
            .anyMatch(c -> c.component().equals("difference of repeats")),
        notes);
  }

  @Test
  void findsNothingInACleanFile() throws IOException {
    Assessment found = assessed(55, 0, true, 0);
    assertFalse(found.notes().toString().contains("suspect"), found.notes().toString());
    assertFalse(found.notes().toString().contains("repeats differ"), found.notes().toString());
  }
}
