// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import millrace.quantity.NumberText;

/** What a script in R, a program of its own, computes. */
final class ByR {
  private ByR() {}

  /** Runs a script that prints lines {@code name,value}. */
  static Map<String, Double> of(String script, List<String> arguments)
      throws IOException, InterruptedException {
    Path file = Path.of("src", "test", "resources", "millrace", "crosscheck", script);
    ProcessBuilder builder = new ProcessBuilder("Rscript", "--vanilla", file.toString());
    builder.command().addAll(arguments);
    // R warns of locales that it does not have, and of much else, where its values are not.
    builder.environment().put("LC_ALL", "C");
    Path warnings = Files.createTempFile("by-r", ".txt");
    Process r = builder.redirectError(warnings.toFile()).start();
    String said = new String(r.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertEquals(0, r.waitFor(), said + Files.readString(warnings, StandardCharsets.ISO_8859_1));
    Files.delete(warnings);
    Map<String, Double> found = new HashMap<>();
    for (String line : said.split("\n")) {
      String[] parts = line.split(",");
      found.put(parts[0], NumberText.parse(parts[1]).orElseThrow());
    }
    return found;
  }
}
