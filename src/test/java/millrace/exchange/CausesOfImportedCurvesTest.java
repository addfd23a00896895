// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.analysis.causes.Cause;
import millrace.analysis.causes.ErrorCauseDiagnosis;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.RunCauseDiagnosis;
import millrace.exchange.InventedCurves.Fault;
import millrace.logbook.RunStart;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Whatever the span of temperature, an imported unit's fault is named, a good one called good. */
class CausesOfImportedCurvesTest extends Importing {
  @ParameterizedTest
  @CsvSource({"15,30", "8,40", "5,45"})
  void aFaultIsNamedOverEverySpanOfTemperature(double cold, double hot) throws IOException {
    told(cold, hot, 1, 1);
  }

  @ParameterizedTest
  @CsvSource({"15,30", "8,40", "5,45", "-10,60"})
  @Tag("campaign")
  void faultsAreNamedInNineteenOfTwentyUnits(double cold, double hot) throws IOException {
    told(cold, hot, 10, 1000);
  }

  @Test
  void aUnitThatChangesAmidTheNightIsSaidWithTheResultsThatMixBothSides() throws IOException {
    String csv =
        InventedCurves.head()
            + new InventedCurves(Fault.LATE_LEAKAGE, 5).rows("LATE-0", 23, 8, 15, 30, 40, 23);
    Assessment found = Assessor.assess(logbook.reader(imported(csv).get(0).run()));
    ErrorCauseDiagnosis diagnosis = RunCauseDiagnosis.of(found).orElseThrow();
    String notes = String.join("\n", diagnosis.notes());
    assertTrue(
        notes.startsWith(
            "between 5.841 h from the start and 8.341 h from the start the unit changed: leakage to"
                + " ground output of 3.00 Gohm from then on"),
        notes);
    assertTrue(notes.contains("mix two states of the unit and hold for neither: "), notes);
    assertTrue(notes.contains("thermal hysteresis"), notes);
  }

  private void told(double cold, double hot, int each, long seed) throws IOException {
    StringBuilder csv = new StringBuilder(InventedCurves.head());
    List<Fault> faults = new ArrayList<>();
    for (Fault fault : Fault.values()) {
      for (int i = 0; i < each; i++) {
        String name = fault.name().replace('_', '-') + "-" + i;
        csv.append(
            new InventedCurves(fault, seed + faults.size())
                .rows(name, 23, cold, (23 + cold) / 2, (23 + hot) / 2, hot, 23));
        faults.add(fault);
      }
    }
    List<ImportedRun> runs = imported(csv.toString());
    assertEquals(faults.size(), runs.size());
    List<String> wrong = new ArrayList<>();
    for (int i = 0; i < runs.size(); i++) {
      List<Cause> causes =
          RunCauseDiagnosis.of(Assessor.assess(logbook.reader(runs.get(i).run())))
              .orElseThrow()
              .causes();
      Cause first = causes.get(0);
      String wanted = faults.get(i).cause();
      if (!first.name().equals(wanted) && !first.notSeparableFrom().contains(wanted)) {
        wrong.add(runs.get(i).unit() + ": " + first.name() + " " + first.probability());
      }
    }
    assertTrue(wrong.size() <= 0.05 * runs.size(), wrong.size() + " of " + runs.size() + wrong);
  }

  private List<ImportedRun> imported(String csv) throws IOException {
    byte[] sheet = InventedCurves.datasheet().getBytes(UTF_8);
    Import.Circumstances with =
        new Import.Circumstances(
            Optional.of(new Import.Attached("quill.datasheet.yaml", sheet)),
            RunStart.People.NONE,
            Optional.empty(),
            Map.of(),
            "0.0.1",
            NOW,
            ZoneOffset.UTC);
    return Import.check(file(csv)).into(logbook, with);
  }
}
