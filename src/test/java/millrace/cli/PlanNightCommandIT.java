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

/** A night that is planned, run, and held against what was promised of it. */
class PlanNightCommandIT {
  private static final String LIMITS =
      """
      limits:
        - {quantity: current_error, range: 1mA, lower: -300 ppm, upper: 300 ppm,
           when: {terminal voltage: [0 V, 12 V]}}
        - {quantity: load_regulation, range: 1mA, lower: -%1$s, upper: %1$s}
      """;

  @TempDir private Path folder;

  /** The shipped datasheet with two limits in place of its own. */
  private Path sheet(String ppmPerV) throws IOException {
    String shipped = Files.readString(Path.of("examples/fx-3.datasheet.yaml"));
    int from = shipped.indexOf("\nlimits:") + 1;
    assertTrue(from > 0, "the shipped datasheet has limits");
    return Files.writeString(
        folder.resolve("two.datasheet.yaml"),
        shipped.substring(0, from) + LIMITS.formatted(ppmPerV));
  }

  private static Spoken plan(Object... words) {
    String[] all = new String[words.length + 2];
    all[0] = "plan";
    all[1] = "night";
    for (int i = 0; i < words.length; i++) {
      all[i + 2] = words[i].toString();
    }
    return Spoken.by(all);
  }

  @Test
  void aPlannedNightDecidesWhatItPromises() throws IOException {
    Path sheet = sheet("3 ppm/V");
    Path night = folder.resolve("night.yaml");
    Path picture = folder.resolve("hours.svg");
    Spoken planned = plan(sheet, "--simulated", "--shortest", "-o", night, "--picture", picture);
    assertEquals(0, planned.code(), planned.err());
    assertTrue(planned.out().contains("decides all 2 limits"), planned.out());
    assertTrue(Files.readString(picture).startsWith("<svg"), "a picture");
    Path book = folder.resolve("night.db");
    Spoken ran =
        Spoken.by(
            "run",
            night.toString(),
            "--unit",
            "FX3-00001",
            "--datasheet",
            sheet.toString(),
            "--simulated",
            "--logbook",
            book.toString());
    assertTrue(ran.code() == 0 || ran.code() == 1, ran.err());
    JsonNode judged =
        new ObjectMapper()
            .readTree(Spoken.by("analyze", "1", "--json", "--logbook", book.toString()).out());
    int decided = 0;
    for (JsonNode result : judged.get("results")) {
      if (!result.get("limit").isNull()) {
        assertFalse(result.get("conformity").asText().contains("conditional"), result.toString());
        assertFalse(result.get("conformity").asText().contains("not"), result.toString());
        decided++;
      }
    }
    assertEquals(2, decided);
  }

  @Test
  void fewerHoursAreKeptAndWhatTheyCostIsSaid() throws IOException {
    Path sheet = sheet("3 ppm/V");
    Spoken rich = plan(sheet, "--simulated", "--hours", "0.1", "--json");
    Spoken lean = plan(sheet, "--simulated", "--shortest", "--json");
    JsonNode more = new ObjectMapper().readTree(rich.out());
    JsonNode less = new ObjectMapper().readTree(lean.out());
    assertTrue(
        less.get("duration_s").asDouble() < more.get("duration_s").asDouble(),
        () -> less.get("duration_s") + " against " + more.get("duration_s"));
    assertTrue(more.get("duration_s").asDouble() <= 360);
    assertTrue(more.get("curve").size() > 1, more.toString());
  }

  @Test
  void aLimitThatNoNightDecidesNamesWhatStandsInTheWay() throws IOException {
    Spoken planned = plan(sheet("0.31 ppm/V"), "--simulated", "--shortest");
    assertEquals(7, planned.code(), planned.err());
    assertTrue(planned.out().contains("No night on this bench decides:"), planned.out());
    assertTrue(planned.out().contains("Largest part: "), planned.out());
  }

  @Test
  void aFileThatIsThereIsRefusedBeforeTheSearch() throws IOException {
    Path night = Files.writeString(folder.resolve("night.yaml"), "sequence: mine\n");
    Spoken planned = plan(sheet("3 ppm/V"), "--simulated", "--shortest", "-o", night);
    assertEquals(2, planned.code(), planned.err());
    assertFalse(planned.err().contains("Searching"), planned.err());
    assertEquals("sequence: mine\n", Files.readString(night));
    Spoken nowhere =
        plan(sheet("3 ppm/V"), "--simulated", "--shortest", "-o", folder.resolve("no/night.yaml"));
    assertEquals(2, nowhere.code(), nowhere.err());
    assertFalse(nowhere.err().contains("Searching"), nowhere.err());
  }

  @Test
  void optionsThatChangeNothingAreNotTaken() throws IOException {
    assertEquals(2, plan(sheet("3 ppm/V"), "--simulated", "--shortest", "--seed", "3").code());
  }

  @Test
  void aLengthIsAskedFor() throws IOException {
    Path sheet = sheet("3 ppm/V");
    assertEquals(2, plan(sheet, "--simulated").code());
    assertEquals(2, plan(sheet, "--simulated", "--shortest", "--hours", "3").code());
    assertEquals(2, plan(sheet, "--simulated", "--hours", "0").code());
    assertEquals(2, plan(sheet, "--simulated", "--shortest", "--slots", "9").code());
  }
}
