// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.exchange.InventedCurves.Fault;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;

/** A wild reading that nobody repeated is told by the loads beside and by other temperatures. */
class LoneWildReadingTest extends Importing {
  private static final double[] LAP = {23, 5, 14, 34, 55, 23};

  private static String csv(double offPpm, int load, long seed) {
    SplittableRandom random = new Seeds(seed).stream("lone");
    StringBuilder csv =
        new StringBuilder(
            "range,nominal_A,current_A,load_ohm,temperature_degC,terminal_voltage_V,u_current_A\n");
    for (double degC : LAP) {
      for (int k = 0; k < 11; k++) {
        double off = degC == 55 && k == load ? offPpm * 1e-6 : 0;
        double relative = 1e-6 * (degC - 23) + off + 0.5e-6 * random.nextGaussian();
        csv.append(
            String.format(
                Locale.ROOT,
                "1mA,0.001,%.13f,%d,%.0f,%.4f,5e-10%n",
                1e-3 * (1 + relative),
                800 * k,
                degC,
                0.8 * k));
      }
    }
    return csv.toString();
  }

  private Assessment assessed(String csv) throws IOException {
    return Assessor.assess(logbook.reader(imports(csv).get(0).run()));
  }

  private static long suspects(Assessment found) {
    return found.notes().stream().filter(n -> n.contains("suspect, left out")).count();
  }

  private static ComputationOutcome.Value tempco(Assessment found) {
    return (ComputationOutcome.Value)
        found.results().stream()
            .filter(r -> r.quantity() == ResultQuantity.TEMPCO)
            .findFirst()
            .orElseThrow()
            .outcome();
  }

  @Test
  void isLeftOutAndShownWithAndWithout() throws IOException {
    Assessment found = assessed(csv(20, 0, 5));
    assertEquals(1, suspects(found), found.notes().toString());
    assertTrue(
        found.notes().stream().anyMatch(n -> n.contains("off what the loads beside say")),
        found.notes().toString());
    ComputationOutcome.Value tempco = tempco(found);
    assertEquals(1, tempco.value(), tempco.uncertainty().orElseThrow().expanded());
    assertTrue(tempco.uncertainty().get().expanded() < 0.03, tempco.toString());
    List<Result> knees =
        found.results().stream()
            .filter(r -> r.quantity() == ResultQuantity.KNEE_VOLTAGE)
            .filter(r -> r.outcome() instanceof ComputationOutcome.Value)
            .toList();
    assertEquals(List.of(), knees);
  }

  @Test
  void isFoundInTheMiddleOfASweepToo() throws IOException {
    assertEquals(1, suspects(assessed(csv(-20, 5, 6))));
  }

  @Test
  void aFallOfTheHighestLoadMayBeTheKnee() throws IOException {
    assertEquals(0, suspects(assessed(csv(-20, 10, 7))));
  }

  @Test
  void goodReadingsHaveNoSuspects() throws IOException {
    for (int seed = 0; seed < 20; seed++) {
      assertEquals(0, suspects(assessed(csv(0, 0, 100 + seed))));
    }
  }

  /** Knees, leakages and curvature that change with temperature are the unit's, not a reading's. */
  @Test
  void whatTheUnitDoesItselfIsNoSuspect() throws IOException {
    Fault[] faults = Fault.values();
    for (int i = 0; i < 3 * faults.length; i++) {
      Fault fault = faults[i % faults.length];
      InventedCurves unit = new InventedCurves(fault, 40 + i);
      Assessment found = assessed(InventedCurves.head() + unit.rows("U", 23, 5, 14, 34, 45, 23));
      assertFalse(
          found.notes().stream().anyMatch(n -> n.contains("loads beside")),
          fault + ": " + found.notes());
    }
  }
}
