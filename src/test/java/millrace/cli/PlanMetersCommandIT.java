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
import millrace.night.SimulatedBenchSession;
import millrace.quantity.NumberText;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Accuracy that is asked for decides the limits it is asked for, and a little less does not. */
class PlanMetersCommandIT {
  private static final String LIMITS =
      """
      limits:
        - {quantity: current_error, range: 1mA, lower: -100 ppm, upper: 100 ppm,
           when: {terminal voltage: [0 V, 12 V]}}
        - {quantity: load_regulation, range: 1mA, lower: -3 ppm/V, upper: 3 ppm/V}
      """;

  @TempDir private Path folder;

  private Path sheet(String limits) throws IOException {
    String shipped = Files.readString(Path.of("examples/fx-3.datasheet.yaml"));
    return Files.writeString(
        folder.resolve("some.datasheet.yaml"),
        shipped.substring(0, shipped.indexOf("\nlimits:") + 1) + limits);
  }

  private static JsonNode need(JsonNode plan, String role, String part) {
    for (JsonNode need : plan.get("needs")) {
      if (need.get("role").asText().equals(role) && need.get("part").asText().equals(part)) {
        return need;
      }
    }
    throw new AssertionError("no " + part + " of a " + role + " in " + plan);
  }

  /** The usual bench with a current meter as asked for, times a factor. */
  private Path bench(JsonNode plan, double factor) throws IOException {
    JsonNode meter = need(plan, "current meter", "accuracy");
    JsonNode linearity = need(plan, "current meter", "linearity");
    JsonNode thermometer = need(plan, "unit thermometer", "accuracy");
    String text =
        SimulatedBenchSession.anyPorts()
            .replaceAll(
                "range: 2 mA, reading: [^,]+, full scale: [^,]+, transfer: [^,]+",
                "range: 2 mA, reading: %s ppm, full scale: %s ppm, transfer: %s ppm"
                    .formatted(
                        ppm(factor * meter.get("of_reading").asDouble()),
                        ppm(factor * meter.get("of_full_scale").asDouble()),
                        ppm(factor * linearity.get("linearity_of_full_scale").asDouble())))
            .replaceAll(
                "(unit thermometer:\\s+accuracy:\\s+- \\{absolute: )[^}]+",
                "$1" + NumberText.print(thermometer.get("absolute").asDouble()) + " K");
    assertTrue(text.contains("reading: " + ppm(factor * meter.get("of_reading").asDouble())));
    return Files.writeString(folder.resolve("own" + factor + ".bench.yaml"), text);
  }

  private static String ppm(double ratio) {
    return NumberText.print(ratio * 1e6);
  }

  @Test
  void theAccuracyAskedForDecidesAndATenthPoorerDoesNot() throws IOException {
    String sheet = sheet(LIMITS).toString();
    Spoken asked = Spoken.by("plan", "meters", sheet, "--json");
    assertEquals(0, asked.code(), asked.err());
    JsonNode plan = new ObjectMapper().readTree(asked.out());
    assertEquals(2, plan.get("limits").size());
    Spoken exact = Spoken.by("plan", "meters", sheet, "--bench", bench(plan, 1).toString());
    assertEquals(0, exact.code(), exact.out() + exact.err());
    assertTrue(exact.out().contains("Your instruments decide all 2 limits"), exact.out());
    String picture = folder.resolve("meters.svg").toString();
    String own = bench(plan, 1.1).toString();
    Spoken poorer = Spoken.by("plan", "meters", sheet, "--bench", own, "--picture", picture);
    assertEquals(7, poorer.code(), poorer.out() + poorer.err());
    assertTrue(poorer.out().contains("Written: " + picture + "."), poorer.out());
    String drawn = Files.readString(Path.of(picture));
    assertTrue(drawn.contains("current meter 2 mA, linearity"), drawn);
    assertTrue(drawn.contains("too poor"), drawn);
    assertTrue(
        poorer.out().contains("Your instruments leave 2 of 2 limits open: current error of 1mA,"),
        poorer.out());
    assertTrue(
        poorer.out().contains("current meter 'ammeter' leaves open, even if all others had no"),
        poorer.out());
    assertTrue(poorer.out().contains("too poor"), poorer.out());
  }

  /**
   * A unit as expected lies on this limit, so that no U is small enough. The night for it has a
   * record of eight hours.
   */
  @Test
  @Tag("campaign")
  void aLimitThatNoAccuracyDecidesIsNamed() throws IOException {
    String sheet =
        sheet(
                "limits:\n"
                    + "  - {quantity: tempco, range: 1mA, lower: -1e-4 ppm/K, upper: 1e-4 ppm/K,\n"
                    + "     when: {temperature: [5 degC, 50 degC]}}\n")
            .toString();
    Path picture = folder.resolve("nothing.svg");
    Spoken asked = Spoken.by("plan", "meters", sheet, "--picture", picture.toString());
    assertEquals(7, asked.code(), asked.err());
    assertTrue(asked.out().contains("No accuracy decides: tempco of 1mA."), asked.out());
    assertFalse(asked.out().contains("Instruments as accurate as this"), asked.out());
    assertFalse(Files.exists(picture), "a picture of nothing");
  }

  @Test
  void withoutLimitsThereIsNothingToAsk() throws IOException {
    Spoken asked = Spoken.by("plan", "meters", sheet("limits: []\n").toString());
    assertEquals(6, asked.code(), asked.err());
    assertTrue(asked.err().contains("Add 'limits'"), asked.err());
  }
}
