// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** Boards of the simulated bench, compared by the command. */
@Timeout(300)
class CompareCommandIT {
  @TempDir Path folder;

  private Spoken millrace(String typed, List<String> words) {
    List<String> all = new ArrayList<>(words);
    all.addAll(List.of("--logbook", folder.resolve("a.db").toString()));
    return Spoken.typing(typed, all.toArray(String[]::new));
  }

  private Spoken compare(String... words) {
    List<String> all = new ArrayList<>(List.of("compare"));
    all.addAll(List.of(words));
    return millrace("", all);
  }

  private void practise(String sequence, String operator, String... scans) {
    Spoken outcome =
        millrace(
            String.join("\n", scans) + "\nend\n",
            List.of(
                "production",
                "sequences/" + sequence + ".yaml",
                "--datasheet",
                "examples/fx-3.datasheet.yaml",
                "--simulated",
                "--operator",
                operator,
                "--shift",
                "early",
                "--tag",
                "T"));
    assertTrue(outcome.code() < 2, outcome.out() + outcome.err());
  }

  @Test
  void aBatchOfBoardsComesOutAsTableDocumentCsvAndPage() throws IOException {
    practise(
        "production-board-test",
        "Ada",
        "FX3-00001",
        "FX3-00003",
        "FX3-00004",
        "FX3-00005",
        "FX3-00003",
        "loose plug");
    Path csv = folder.resolve("a.csv");
    Path page = folder.resolve("a.html");
    Spoken json =
        compare("--tag", "T", "--causes", "--json", "--csv", csv.toString(), "-o", page.toString());
    JsonNode document = new ObjectMapper().readTree(json.out());
    assertTrue(document.get("simulated").asBoolean());
    assertEquals(5, document.get("runs").size());
    JsonNode yield = document.get("yields").get(0);
    assertEquals(4, yield.get("first_pass").get("of").asInt());
    assertEquals(1, yield.get("retests").asInt());
    // FX3-00001 is drawn with a range resistor that is far off.
    assertEquals(1, json.code());
    assertFalse(document.get("runs").get(0).get("passed").asBoolean());
    assertEquals("loose plug", document.get("runs").get(4).get("cause").asText());
    assertEquals(22, document.get("quantities").size());
    // One row per run and quantity, and the header.
    assertEquals(1 + 5 * 22, Files.readAllLines(csv).size());
    String html = Files.readString(page);
    assertTrue(html.contains("SIMULATED"));
    assertTrue(
        html.contains("<h2>1 of 4 units failed</h2>"), html.substring(html.indexOf("<body")));
    assertTrue(html.contains("Yield: first pass 3 of 4"));
    assertFalse(html.contains("NaN"));
    assertTrue(html.contains("Unit FX3-00001 failed (run 1) by current error of 1uA: "));
    JsonNode cause = document.get("causes").get(0);
    assertEquals("range resistor R5", cause.get("cause").asText());
    assertEquals(1, cause.get("runs").get(0).asInt());
    assertEquals("R5", cause.get("of").asText());
    assertEquals(1.0, cause.get("cumulative_share").asDouble());
    String hint = cause.get("boards").get(0).get("hint").asText();
    assertTrue(hint.matches("range resistor R5 high by \\d+ ± \\d+ ppm, probability .*"), hint);
    assertTrue(html.contains("range resistor R5 high by "));
    assertDrift(document);
  }

  /** The retest ran on the same bench, so the meter's gain cancels; the unit's tempco does, too. */
  private static void assertDrift(JsonNode document) {
    JsonNode drifts = document.get("drifts");
    assertEquals(22, drifts.size());
    for (JsonNode drift : drifts) {
      assertEquals("FX3-00003", drift.get("unit_under_test").asText());
      if (drift.get("quantity").asText().equals("current_error")) {
        assertTrue(drift.get("expanded_uncertainty").asDouble() < 15, drift.toString());
        List<String> cancelled = new ArrayList<>();
        drift.get("cancelled").forEach(c -> cancelled.add(c.asText()));
        // The demonstration's ammeter reads each range on its own range of twice its nominal.
        String gain = "meter gain, ammeter 2" + drift.get("range").asText().substring(1);
        assertEquals(gain.replaceFirst("(0*)([um])A$", "$1 $2A"), cancelled.get(0));
        assertTrue(cancelled.contains("design: slope over temperature a"), drift.toString());
      }
    }
  }

  @Test
  void aGaugeStudyIsMadeOfTheRunsOfItsSequence() throws IOException {
    for (String operator : List.of("Ada", "Ben")) {
      List<String> scans = new ArrayList<>();
      for (String unit : List.of("FX3-00003", "FX3-00004")) {
        scans.addAll(List.of(unit, "yes", unit, "repeat of the study", "yes"));
      }
      practise("gauge-study", operator, scans.toArray(String[]::new));
    }
    JsonNode document = new ObjectMapper().readTree(compare("--tag", "T", "--json").out());
    assertEquals(8, document.get("runs").size());
    JsonNode studies = document.get("gauge_studies");
    // Every quantity that has a limit; what has none has no verdict.
    assertEquals(10, studies.size(), document.get("notes").toString());
    int judged = 0;
    int withCare = 0;
    for (JsonNode study : studies) {
      assertEquals("operators", study.get("across").asText());
      if (study.get("quantity").asText().equals("current_error")) {
        // Units of this kind differ by tens of ppm, the bench repeats within a few.
        assertTrue(study.get("share_of_tolerance").asDouble() < 0.1, study.toString());
      }
      if (study.get("tells_nothing_because").isNull()
          && study.get("share_of_tolerance").isNumber()) {
        judged++;
        double share = study.get("share_of_tolerance").asDouble();
        assertTrue(share < 0.3, "the bench is fit for every limit of the datasheet: " + study);
        withCare += share >= 0.1 ? 1 : 0;
      }
    }
    String table = compare("--tag", "T").out().replaceAll("\\s+", " ");
    String verdict = "more than a tenth of the tolerance in " + withCare + " of " + judged;
    assertTrue(withCare > 0 && table.contains(verdict + " quantities"), table);
  }

  @Test
  void aLimitSmallerThanUIsSaidToLeaveNoRoomToPass() throws IOException {
    String promised = Files.readString(Path.of("examples/fx-3.datasheet.yaml"));
    String tight =
        promised.replace(
            "lower: -150 ppm - 90 pA, upper: 150 ppm + 90 pA", "lower: -0.2 ppm, upper: 0.2 ppm");
    assertNotEquals(promised, tight);
    Path sheet = Files.writeString(folder.resolve("tight.datasheet.yaml"), tight);
    for (int i = 0; i < 2; i++) {
      millrace("", List.of("import", "examples/fx-3-by-hand.csv", "--datasheet", sheet.toString()));
    }
    String out = compare("1", "2").out().replaceAll("\\s+", " ");
    assertTrue(out.contains("; no value could have passed: U is too large for this limit"), out);
  }

  @Test
  void theDriftOfAUnitIsTheSameBeforeAndAfterItsRunsAreJudged() throws IOException {
    for (int i = 0; i < 2; i++) {
      millrace("", List.of("import", "examples/fx-3-by-hand.csv"));
    }
    ObjectMapper json = new ObjectMapper();
    JsonNode before = json.readTree(compare("1", "2", "--json").out()).get("drifts");
    millrace("", List.of("analyze", "1", "2"));
    JsonNode after = json.readTree(compare("1", "2", "--json").out()).get("drifts");
    assertTrue(before.findValues("expanded_uncertainty").stream().anyMatch(JsonNode::isNumber));
    assertEquals(after, before);
  }

  @Test
  void whatCannotBeComparedIsSaidInWords() {
    assertEquals(5, compare("1").code());
    practise("production-board-test", "Ada", "FX3-00003");
    Spoken nothing = compare();
    assertEquals(2, nothing.code());
    assertTrue(nothing.err().contains("nothing to compare"), nothing.err());
    assertEquals(2, compare("7").code());
    Spoken none = compare("--batch", "B9");
    assertEquals(2, none.code());
    assertTrue(none.err().contains("no run is of that batch"), none.err());
    assertEquals(2, compare("1", "--csv", folder.resolve("no/a.csv").toString()).code());
  }
}
