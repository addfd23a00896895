// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import static millrace.assessment.comparison.Batch.error;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import millrace.assessment.comparison.Batch.Order;
import millrace.fault.BadInputException;
import millrace.logbook.RunFilter;
import millrace.report.comparison.ComparisonTable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Somebody else's table of units, joined with their results. */
class UnitFactorsTest {
  @TempDir Path folder;

  private Path table(String... lines) throws IOException {
    return Files.write(folder.resolve("reels.csv"), List.of(lines));
  }

  @Test
  void aReelOfPartsThatIsOffIsASentence() throws IOException {
    StringBuilder lines = new StringBuilder("reel,unit\n");
    try (Batch batch = new Batch(folder)) {
      for (int i = 0; i < 24; i++) {
        String reel = i % 3 == 1 ? "R8" : "R7";
        batch.run(Order.of("U" + i), List.of(error(i % 4 + (reel.equals("R8") ? 20 : 0))));
        lines.append(reel).append(" , U").append(i).append('\n');
      }
      batch.run(Order.of("U24"), List.of(error(1)));
      UnitFactors reels = UnitFactors.read(table(lines.toString()));
      Comparison c = RunComparer.of(batch.book(), batch.book().runs(RunFilter.ALL), false, reels);
      String said = ComparisonTable.paragraphs(c).toString();
      assertTrue(said.contains("Reel R8 differs from the others in 1 quantity, "), said);
      assertEquals(List.of("the table of factors does not name 1 of 25 units"), c.notes());
      ResultsByGroup by = ResultPivot.of(c, reels.factors());
      assertEquals(List.of(List.of(""), List.of("R7"), List.of("R8")), by.groups());
      assertEquals(16, by.rows().get(0).cells().get(1).orElseThrow().n());
    }
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "serial,reel | 1:1: no column is named 'unit'; expected one with serial numbers. Name it"
            + " 'unit'.",
        "unit | 1:1: 'unit' is the only column; expected at least one factor. Add a column, as"
            + " 'reel'.",
        "unit,batch | 1:6: column 'batch' is known from the logbook; expected factors that the"
            + " logbook does not know. Rename or delete it.",
        "unit,reel;U1,a;U2,b;U1,c | 4:1: unit 'U1' is there twice, first in line 2; expected one"
            + " row a unit. Delete one.",
        "unit,reel; ,a | 2:1: the row names no unit; expected a serial number. Fill it in.",
        "unit,reel;U1 | 2:1: the row has 1 field; expected 2, as in the header. Check commas and"
            + " quotation marks.",
      })
  void aTableThatCannotBeJoinedIsRefusedWithItsPlace(String lines, String expected)
      throws IOException {
    Path file = table(lines.split(";"));
    BadInputException e = assertThrows(BadInputException.class, () -> UnitFactors.read(file));
    assertEquals(file + ":" + expected, e.getMessage());
  }
}
