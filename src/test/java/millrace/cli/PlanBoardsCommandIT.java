// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A board test that is planned, and what stands in the way where none holds the risks. */
class PlanBoardsCommandIT {
  private static final Path ONE_RANGE =
      Path.of("src/test/resources/millrace/night/boards/one-range.datasheet.yaml");

  @TempDir private Path folder;

  private static Spoken plan(Object... words) {
    String[] all = new String[words.length + 2];
    all[0] = "plan";
    all[1] = "boards";
    for (int i = 0; i < words.length; i++) {
      all[i + 2] = words[i].toString();
    }
    return Spoken.by(all);
  }

  private Path sheet(String limits) throws IOException {
    String text = Files.readString(ONE_RANGE);
    return Files.writeString(
        folder.resolve("some.datasheet.yaml"),
        text.substring(0, text.indexOf("limits:")) + "limits:\n" + limits);
  }

  /** Wide limits, so that meters which scatter by half a step are good enough. */
  private Path wide() throws IOException {
    return sheet(
        """
          - {quantity: current_error, range: all, lower: -300 ppm, upper: 300 ppm,
             when: {terminal voltage: [0 V, 10 V]}}
          - {quantity: load_regulation, range: all, lower: -4 ppm/V, upper: 4 ppm/V}
          - {quantity: tempco, range: all, lower: -5 ppm/K, upper: 5 ppm/K}
        """);
  }

  @Test
  void aPlannedTestRunsInProductionAndSaysWhatItLeansOn() throws IOException {
    Path sequence = folder.resolve("boards.yaml");
    Spoken planned = plan(wide(), "--simulated", "--consumer-risk", "0.1", "%", "-o", sequence);
    assertEquals(0, planned.code(), planned.out() + planned.err());
    assertTrue(planned.out().contains("holds both risks"), planned.out());
    assertTrue(planned.out().contains("limits on tempco are left to a type run"), planned.out());
    String text = Files.readString(sequence);
    assertTrue(text.contains("consumer risk: 0.1 %, producer risk: 1 %"), text);
    Path book = folder.resolve("boards.db");
    Spoken shift =
        Spoken.typing(
            "FX3-00002\nend\n",
            "production",
            sequence.toString(),
            "--datasheet",
            folder.resolve("some.datasheet.yaml").toString(),
            "--simulated",
            "--operator",
            "Ada",
            "--shift",
            "early",
            "--logbook",
            book.toString());
    assertTrue(shift.out().contains("FX3-00002: PASS (run 1)"), shift.out());
  }

  @Test
  void theDocumentHasBothRisksOfEachLimit() throws IOException {
    Spoken planned = plan(wide(), "--simulated", "--consumer-risk", "0.1 %", "--json");
    JsonNode document = new ObjectMapper().readTree(planned.out());
    assertTrue(document.get("held").asBoolean(), planned.out());
    assertEquals(2, document.get("limits").size());
    for (JsonNode limit : document.get("limits")) {
      assertTrue(limit.get("consumer_risk").asDouble() <= 0.001, limit.toString());
      assertTrue(limit.get("producer_risk").asDouble() <= 0.01, limit.toString());
    }
    assertTrue(document.get("mean_duration_s").asDouble() > 1, planned.out());
    assertEquals("tempco", document.get("left_to_type_run").get(0).asText());
  }

  @Test
  void risksThatCannotBeHeldNameTheLimitAndWhatWouldChangeThat() throws IOException {
    Spoken planned =
        plan(
            sheet(
                "  - {quantity: current_error, range: all, lower: -60 ppm, upper: 60 ppm,\n"
                    + "     when: {terminal voltage: [0 V, 10 V]}}\n"),
            "--simulated",
            "--consumer-risk",
            "0.1 %");
    assertEquals(7, planned.code(), planned.err());
    assertTrue(planned.out().contains("No board test on this bench holds both risks"));
    assertTrue(
        planned.out().contains("current error of 1mA: too many boards that meet it fail"),
        planned.out());
    assertTrue(planned.out().contains("U of at most"), planned.out());
    assertTrue(planned.out().contains("meter gain"), planned.out());
  }

  @Test
  void aQuantityWhoseSpreadNothingTellsIsSaid() throws IOException {
    String text = Files.readString(wide());
    int parts = text.indexOf("parts:");
    String bare =
        text.substring(0, parts)
            + text.substring(text.indexOf("ranges:")).replaceAll("(?s)    made from:.*?\\}\n", "");
    Path sheet = Files.writeString(folder.resolve("bare.datasheet.yaml"), bare);
    Spoken planned = plan(sheet, "--simulated", "--consumer-risk", "0.1 %");
    assertEquals(7, planned.code(), planned.out() + planned.err());
    assertTrue(
        planned.out().contains("current error of 1mA: nothing tells how boards spread in it"),
        planned.out());
  }

  @Test
  void aRiskIsAShareBelowAHalf() throws IOException {
    for (String risk : new String[] {"0", "50 %", "-1 %", "often", "3 V"}) {
      Spoken refused = plan(ONE_RANGE, "--simulated", "--consumer-risk", risk);
      assertEquals(2, refused.code(), risk);
      assertTrue(refused.err().contains("above 0 and below 50 %"), refused.err());
    }
    assertEquals(2, plan(ONE_RANGE, "--simulated").code());
    assertEquals(2, plan(ONE_RANGE, "--simulated", "--consumer-risk").code());
    Spoken none =
        plan(
            sheet("  - {quantity: tempco, range: all, lower: -5 ppm/K, upper: 5 ppm/K}\n"),
            "--simulated",
            "--consumer-risk",
            "0.1 %");
    assertEquals(6, none.code(), none.err());
    assertFalse(none.err().contains("Exception"), none.err());
  }
}
