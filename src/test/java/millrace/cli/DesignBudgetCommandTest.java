// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class DesignBudgetCommandTest {
  private static final String SHEET =
      """
      datasheet: invented source
      parts:
        REF: {kind: reference, value: 5 V, tolerance: 0.02 %, tempco: 2 ppm/K}
        R1: {kind: resistor, value: 5 kohm, tolerance: 0.05 %, tempco: 5 ppm/K,
             network: N1, tracking tolerance: 0.01 %, tracking tempco: 1 ppm/K}
        R2: {kind: resistor, value: 50 kohm, tolerance: 0.05 %, tempco: 5 ppm/K,
             network: N1, tracking tolerance: 0.01 %, tracking tempco: 1 ppm/K}
        A1: {kind: amplifier, offset: 30 uV, drift: 0.3 uV/K, gain: 120 dB}
        Q1: {kind: pass device, type: bipolar, beta: 100}
        S1: {kind: supply, voltage: 15 V}
      ranges:
        1mA: {nominal: 1 mA, made from: {reference: REF, set voltage: 5 V, resistor: R1,
              amplifier: A1, pass device: Q1, supply: S1}}
        100uA: {nominal: 100 uA, made from: {reference: REF, set voltage: 5 V, resistor: R2,
              amplifier: A1, pass device: Q1, supply: S1}}
      """;

  @TempDir private Path folder;

  private String sheet(String text) throws Exception {
    return Files.writeString(folder.resolve("sheet.yaml"), text).toString();
  }

  @Test
  void printsATableOfEveryRange() throws Exception {
    Spoken ended = Spoken.done("budget", sheet(SHEET), "--trials", "1000");
    assertTrue(ended.out().contains("range 1mA: 5 V held across 5 kohm (R1)"), ended.out());
    assertTrue(ended.out().contains("compliance voltage used by: Q1 drop of its own"), ended.out());
    assertTrue(ended.out().contains("1mA/100uA tracking"), ended.out());
  }

  @Test
  void jsonIsOneDocumentWithEveryKey() throws Exception {
    Spoken ended = Spoken.by("budget", sheet(SHEET), "--json", "--trials", "1000");
    JsonNode json = new ObjectMapper().readTree(ended.out());
    assertEquals("", ended.err());
    assertEquals(14, json.get("predictions").size());
    JsonNode error = json.get("predictions").get(1);
    assertEquals("current_error", error.get("quantity").textValue());
    assertEquals("ppm", error.get("unit").textValue());
    // 1/(beta + 1), beta having risen with the voltage across the device
    assertEquals(-1e6 / 101, error.get("nominal").doubleValue(), 700);
    assertTrue(error.get("drawn").get("standard_deviation").doubleValue() > 0);
    assertTrue(error.has("missing") && error.get("missing").isNull());
    JsonNode ratio = json.get("predictions").get(12);
    assertEquals("100uA", ratio.get("other_range").textValue());
  }

  @Test
  void theSameSeedPrintsTheSame() throws Exception {
    String file = sheet(SHEET);
    String[] args = {"budget", file, "--json", "--trials", "500", "--seed", "3"};
    assertEquals(Spoken.by(args).out(), Spoken.by(args).out());
  }

  @Test
  void aDatasheetWithoutPartsCannotBeAnalysed() throws Exception {
    String file = sheet("datasheet: bare\nranges: {1mA: {nominal: 1 mA}}\n");
    Spoken ended = Spoken.by("budget", file);
    assertEquals(6, ended.code());
    assertEquals(
        "millrace: "
            + file
            + ": no range says what it is made from; expected 'made from' in one range or more. Add"
            + " the parts and 'made from: {reference: ..., set voltage: ..., resistor: ...}'.\n",
        ended.err());
  }

  @Test
  void tooFewTrialsAreRefused() throws Exception {
    Spoken ended = Spoken.by("budget", sheet(SHEET), "--trials", "5");
    assertEquals(2, ended.code());
    assertTrue(ended.err().contains("--trials is 5; expected 100 to 1000000."), ended.err());
  }

  @Test
  void writesAPageWithAPicturePerQuantity() throws Exception {
    Path page = folder.resolve("budget.html");
    Spoken ended = Spoken.done("budget", sheet(SHEET), "--trials", "500", "-o", page.toString());
    assertEquals(page + "\n", ended.out());
    String html = Files.readString(page);
    for (String title :
        List.of("current error", "tempco", "output resistance", "compliance voltage")) {
      assertTrue(html.contains("All ranges: " + title + ", predicted"), title);
    }
    assertTrue(html.contains("Nothing was measured."));
    assertTrue(html.contains("<td class=\"figures short\">not measured</td>"));
    assertFalse(Pattern.compile("NaN|Infinity|Optional|https?:|<script").matcher(html).find());
  }

  @Test
  void refusesARunWithoutAPage() throws Exception {
    Spoken ended = Spoken.by("budget", sheet(SHEET), "--run", "1");
    assertEquals(2, ended.code());
    assertTrue(ended.err().contains("--run RUN with -o FILE only"), ended.err());
  }
}
