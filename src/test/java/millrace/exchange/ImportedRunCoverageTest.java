// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import millrace.assessment.Assessor;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.time.Seeds;
import millrace.verification.Held;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * How often results of imported readings hold the truth: straight units, 66 readings of u 0.5 ppm,
 * loads up and down at three temperatures; the same with one reading 20 ppm off, at no load and the
 * highest temperature, whose repeat is fine.
 */
class ImportedRunCoverageTest extends Importing {
  private static final double[] LAP = {23, 5, 55};
  private static final int LOADS = 11;
  private static final double U = 0.5e-6;

  private static final int AT_ONCE = 100;

  /** Slope over temperature, ppm/K, and over load, S. */
  private record Made(double slope, double conductance) {}

  private static Made rows(StringBuilder csv, String unit, boolean wild, long seed) {
    SplittableRandom random = new Seeds(seed).stream("imported " + wild);
    Made made = new Made(4 * random.nextDouble() - 2, 2e-10 * random.nextDouble());
    for (double degC : LAP) {
      for (int i = 0; i < 2 * LOADS; i++) {
        boolean up = i < LOADS;
        int k = up ? i : 2 * LOADS - 1 - i;
        double volts = 0.8 * k;
        double off = wild && degC == 55 && i == 0 ? 20e-6 : 0;
        double relative = made.slope() * 1e-6 * (degC - 23) + off + U * random.nextGaussian();
        double amperes = 1e-3 * (1 + relative) - made.conductance() * volts;
        csv.append(
            String.format(
                Locale.ROOT,
                "%s,1mA,0.001,%.13f,%d,%.0f,%.4f,5e-10,%s%n",
                unit,
                amperes,
                800 * k,
                degC,
                volts,
                up ? "up" : "down"));
      }
    }
    return made;
  }

  private void counted(boolean wild, int sets) throws IOException {
    String kind = wild ? "imported with a wild reading, " : "imported straight units, ";
    Held tempco = new Held(ImportedRunCoverageTest.class, kind + "tempco");
    Held conductance = new Held(ImportedRunCoverageTest.class, kind + "output_conductance");
    Held error = new Held(ImportedRunCoverageTest.class, kind + "current_error");
    for (int from = 0; from < sets; from += AT_ONCE) {
      int n = Math.min(AT_ONCE, sets - from);
      StringBuilder csv =
          new StringBuilder(
              "unit,range,nominal_A,current_A,load_ohm,temperature_degC,terminal_voltage_V,"
                  + "u_current_A,direction\n");
      Made[] made = new Made[n];
      for (int i = 0; i < n; i++) {
        made[i] = rows(csv, "U-" + (from + i), wild, from + i);
      }
      List<ImportedRun> runs = imports(csv.toString());
      for (int i = 0; i < n; i++) {
        List<Result> all = Assessor.assess(logbook.reader(runs.get(i).run())).results();
        tempco.add(made[i].slope(), first(all, ResultQuantity.TEMPCO));
        conductance.add(made[i].conductance(), first(all, ResultQuantity.OUTPUT_CONDUCTANCE));
        error.add(0, first(all, ResultQuantity.CURRENT_ERROR));
      }
    }
    tempco.holdsBetween(0.93, 0.985);
    conductance.holdsBetween(0.93, 0.985);
    error.holdsBetween(0.93, 1);
  }

  private static ComputationOutcome first(List<Result> all, ResultQuantity quantity) {
    return all.stream()
        .filter(r -> r.quantity() == quantity && r.outcome() instanceof ComputationOutcome.Value)
        .findFirst()
        .orElseThrow()
        .outcome();
  }

  @Test
  void aFewUnits() throws IOException {
    counted(false, 40);
    counted(true, 40);
  }

  @Tag("campaign")
  @Test
  void twoThousandStraightUnits() throws IOException {
    counted(false, 2000);
  }

  @Tag("campaign")
  @Test
  void twoThousandUnitsWithAWildReading() throws IOException {
    counted(true, 2000);
  }
}
