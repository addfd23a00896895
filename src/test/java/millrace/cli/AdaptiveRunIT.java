// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
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

/** A night that leaves out what is decided, as a person previews, runs and looks at it. */
@Timeout(300)
class AdaptiveRunIT {
  private static final String SEQUENCE =
      """
      sequence: ends first
      readings: {count: 5, line cycles: 10}
      steps:
        - at temperatures: [23 degC, 50 degC, 23 degC, 5 degC, 35 degC, 23 degC]
          soak: {within: 2 ppm, at least: 10 min, at most: 2 h}
          do:
            - in ranges: [1mA]
              do:
                - zero
                - over loads: {share of compliance: {from: 0 %, to: 100 %, points: 9}}
                  sweep: both
                - find the knee: {to: 50 mV, up to: 130 %}
      """;

  @TempDir private Path folder;

  private Spoken by(String... words) {
    List<String> all = new ArrayList<>(List.of(words));
    all.add("--logbook");
    all.add(folder.resolve("night.db").toString());
    return Spoken.by(all.toArray(String[]::new));
  }

  private String sequence(String text) throws IOException {
    return Files.writeString(folder.resolve("night.yaml"), text).toString();
  }

  private Spoken on(String command, String sequence, String... more) {
    List<String> words = new ArrayList<>(List.of(command, sequence, "--simulated"));
    words.addAll(List.of("--datasheet", "examples/fx-3.datasheet.yaml"));
    words.addAll(List.of(more));
    return by(words.toArray(String[]::new));
  }

  @Test
  void leavesOutWhatIsDecidedAndSaysSoEverywhere() throws IOException {
    String sequence = sequence("adaptive: yes\n" + SEQUENCE);
    JsonNode preview =
        new ObjectMapper().readTree(on("preview", sequence, "--json").out()).get("adaptive");
    double expectedS = preview.get("expected_duration_s").asDouble();
    double longestS = preview.get("longest_duration_s").asDouble();
    assertTrue(0 < expectedS && expectedS < longestS, preview.toString());
    assertEquals(1, preview.get("changes").size(), preview.toString());

    Spoken run = on("run", sequence, "--unit", "FX3-00042", "--seed", "7");
    assertTrue(run.err().contains("the plan was changed: leave out: stay 5, 35 degC"), run.err());
    JsonNode found = new ObjectMapper().readTree(by("analyze", "1", "--json").out());
    assertEquals("adaptive", found.get("stopping").asText());
    JsonNode change = found.get("plan_changes").get(0);
    assertEquals("leave out", change.get("kind").asText());
    assertEquals("stay 5, 35 degC: all 20 points", change.get("text").asText());
    String looked = by("status", "1").out();
    assertTrue(looked.contains("adaptive stopping: "), looked);
    assertTrue(looked.contains("leave out: stay 5, 35 degC: all 20 points"), looked);
    assertTrue(by("show", "1", "--verify").out().contains("(adaptive stopping)"));
    Path report = folder.resolve("report.html");
    by("report", "1", "-o", report.toString());
    String page = Files.readString(report);
    assertTrue(page.contains("stopping was adaptive"));
    assertTrue(page.contains("Changes of the plan while it ran"));
  }

  @Test
  void isRefusedWhereItWouldDoNothing() throws IOException {
    String one = sequence(SEQUENCE.replaceAll("\\[23 degC, 50.*\\]", "[23 degC]"));
    Spoken run = on("run", one, "--unit", "FX3-00042", "--adaptive");
    assertEquals(2, run.code(), run.err());
    assertTrue(run.err().contains("it goes to fewer than two temperatures"), run.err());
  }

  @Test
  void everyBoardIsTestedAlike() throws IOException {
    String sequence = sequence("adaptive: yes\n" + SEQUENCE);
    Spoken shift = on("production", sequence, "--operator", "Ada", "--shift", "day");
    assertEquals(2, shift.code(), shift.err());
    assertTrue(shift.err().contains("does the same with every board"), shift.err());
  }
}
