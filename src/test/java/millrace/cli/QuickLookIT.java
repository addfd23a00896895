// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A first look at a unit of a datasheet that says nothing of what is inside. */
class QuickLookIT {
  private static final String SHEET =
      """
      datasheet: WR5
      open-circuit voltage: 15 V
      thermal time constant: 6 min
      compliance: {voltage: 10 V, criterion: 0.1 %, relative to: line}
      ranges:
        5mA: {nominal: 5 mA}
        50uA: {nominal: 50 uA}
      limits:
        - {quantity: current_error, range: all, lower: -300 ppm, upper: 300 ppm,
           when: {terminal voltage: [0 V, 9 V]}}
        - {quantity: compliance_voltage, range: all, lower: 10 V}
        - {quantity: tempco, range: 5mA, lower: -9 ppm/K, upper: 9 ppm/K}
      """;

  @TempDir private Path folder;

  /** No supply of the bench is set for such a unit: a simulated one has a supply of its own. */
  @Test
  void itPassesByWhatItLookedAtAndNamesTheLimitsThatItLeftOut() throws IOException {
    Path sheet = Files.writeString(folder.resolve("wr5.datasheet.yaml"), SHEET);
    String book = folder.resolve("r.db").toString();
    Spoken run =
        Spoken.done(
            "run",
            "sequences/quick-look.yaml",
            "--unit",
            "W-1",
            "--datasheet",
            sheet.toString(),
            "--simulated",
            "--logbook",
            book);
    String out = run.out().replaceAll("\\s+", " ");
    String verdict =
        "Pass. All 2 limits are met. Left out by the sequence: the limits on compliance voltage,"
            + " tempco.";
    assertTrue(out.contains(verdict), out);
    JsonNode document =
        new ObjectMapper().readTree(Spoken.by("analyze", "1", "--json", "--logbook", book).out());
    assertEquals("[\"compliance_voltage\",\"tempco\"]", document.get("limits_left_out").toString());
    Path page = folder.resolve("report.html");
    assertEquals(0, Spoken.by("report", "1", "-o", page.toString(), "--logbook", book).code());
    String html = Files.readString(page);
    assertTrue(html.contains("Left out by the sequence: the limits on"), html);
  }
}
