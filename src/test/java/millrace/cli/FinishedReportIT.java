// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Locale;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * The finished report among the examples says what reports say by now, in the same words; numbers
 * and dates may be others. {@code mvn verify -Dmend=true} writes it anew, as the page of the
 * examples tells.
 */
@Timeout(600)
class FinishedReportIT {
  private static final Path EXAMPLE = Path.of("examples", "report.html");
  private static final Pattern SAID =
      Pattern.compile(
          "<(h1|h2|h3|caption|p|th scope=\"col\")\\b[^>]*>(.*?)</(h[123]|caption|p|th)>");
  private static final int FEWEST = 30;

  @TempDir Path folder;

  /** Headings, heads of columns and sentences, of each the words of four letters and more. */
  private static Set<String> said(Path page) throws IOException {
    Set<String> said = new TreeSet<>();
    Matcher m = SAID.matcher(Files.readString(page));
    while (m.find()) {
      String prose = m.group(2).replaceAll("<code>[^<]*</code>|<[^>]*>", " ");
      // Numbers, dates and identifiers are others each time.
      String words = prose.replaceAll("\\S*\\d\\S*|[^\\p{L}]+", " ");
      said.add(words.replaceAll("\\b\\p{L}{1,3}\\b ?", "").strip().toLowerCase(Locale.ROOT));
    }
    return said;
  }

  private void millrace(int code, String... words) {
    Spoken spoken = Spoken.by(words);
    assertEquals(code, spoken.code(), spoken.err());
  }

  @Test
  void theFinishedReportSaysWhatAReportSaysByNow() throws IOException {
    String book = folder.resolve("short.db").toString();
    Path fresh = folder.resolve("report.html");
    millrace(
        0,
        "run",
        "sequences/short-night.yaml",
        "--unit",
        "FX3-00042",
        "--simulated",
        "--datasheet",
        "examples/fx-3.datasheet.yaml",
        "--logbook",
        book);
    millrace(0, "report", "1", "--logbook", book, "-o", fresh.toString());
    if (Boolean.getBoolean("mend")) {
      Files.copy(fresh, EXAMPLE, StandardCopyOption.REPLACE_EXISTING);
    }
    assertTrue(said(fresh).size() >= FEWEST, "only " + said(fresh));
    assertEquals(
        String.join("\n", said(fresh)),
        String.join("\n", said(EXAMPLE)),
        "examples/report.html is stale; 'mvn verify -Dmend=true' writes it anew");
  }
}
