// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import millrace.logbook.Logbook;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** The page that goes with a unit. */
@Timeout(180)
class TestSheetIT {
  @TempDir Path folder;

  private String logbook() {
    return folder.resolve("a.db").toString();
  }

  private String sheet(String run) throws IOException {
    Path page = folder.resolve("sheet.html");
    Spoken spoken =
        Spoken.by("report", run, "--sheet", "-o", page.toString(), "--logbook", logbook());
    assertEquals(0, spoken.code(), spoken.err());
    return Files.readString(page);
  }

  /** FX3-00001 is drawn with a range resistor that is far off, FX3-00002 is good. */
  @Test
  void saysWhatWasFoundByWhichRuleWithWhatAndWhoSigns() throws IOException {
    Spoken.typing(
        "FX3-00001\nFX3-00002\nend\n",
        "production",
        "sequences/production-board-test.yaml",
        "--datasheet",
        "examples/fx-3.datasheet.yaml",
        "--simulated",
        "--operator",
        "Ada",
        "--shift",
        "early",
        "--logbook",
        logbook());
    String bad = sheet("1");
    assertTrue(bad.contains("\u2717 Fail"), "no outcome");
    assertTrue(bad.contains("SIMULATED"), "passes for a real unit");
    String good = sheet("2");
    assertTrue(good.contains("\u2713 Pass"), "no outcome");
    for (String part :
        new String[] {
          "guarded acceptance; a result passes only where",
          "U covers 95.45 %",
          "OHC-1042",
          "unit temperature 22.8",
          "Tested by",
          "Signature",
          "Ada"
        }) {
      assertTrue(good.contains(part), part + " is missing");
    }
    try (Logbook book = Logbook.readOnly(Path.of(logbook()))) {
      assertTrue(good.contains(book.reader(2).digest()), "the digest is missing");
    }
    assertFalse(good.contains("NaN"));
    // Two significant digits of U: an interval as '13.949 ± 0.049' keeps three decimals of each.
    assertTrue(good.matches("(?s).*\\(13\\.\\d{3} \u00b1 0\\.0\\d{2}\\) V.*"), "not rounded by U");
  }
}
