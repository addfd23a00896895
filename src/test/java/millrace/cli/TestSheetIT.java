// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import millrace.logbook.Logbook;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
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
    return Files.readString(written(run, "sheet.html"));
  }

  private Path written(String run, String name) {
    Path page = folder.resolve(name);
    Spoken.done(
        "report",
        run,
        "--sheet",
        "--laboratory",
        "examples/osk.laboratory.yaml",
        "--customer",
        "Osk Harbour Works",
        "--customer",
        "Pier 3, Osk",
        "-o",
        page.toString(),
        "--logbook",
        logbook());
    return page;
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
    assertTrue(
        bad.matches("(?s).*class=\"outcome\">.*<div>fail: 1uA, current error, .* ppm</div>.*"),
        "what failed is not named in the box");
    assertTrue(bad.contains("SIMULATED"), "passes for a real unit");
    String good = sheet("2");
    assertTrue(good.contains("\u2713 Pass"), "no outcome");
    for (String part :
        new String[] {
          "guarded acceptance; a result passes only where",
          "U covers 95.45 %",
          "Fennick Instruments",
          "Pier 3, Osk",
          "OHC-1042",
          "unit temperature 22.8",
          "Tested by",
          "Released by",
          "Ada"
        }) {
      assertTrue(good.contains(part), part + " is missing");
    }
    try (Logbook book = Logbook.readOnly(Path.of(logbook()))) {
      assertTrue(good.contains(book.reader(2).digest()), "the digest is missing");
    }
    assertFalse(good.contains("NaN"));
    assertFalse(good.contains("<div>fail"), "names what did not fail");
    assertEquals(1, pages(written("1", "failed.pdf")));
    assertEquals(1, pages(written("2", "passed.pdf")));
    // Two significant digits of U: an interval as '13.949 ± 0.049' keeps three decimals of each.
    assertTrue(good.matches("(?s).*\\(13\\.\\d{3} \u00b1 0\\.0\\d{2}\\) V.*"), "not rounded by U");
  }

  private static int pages(Path pdf) throws IOException {
    try (PDDocument document = Loader.loadPDF(pdf.toFile())) {
      return document.getNumberOfPages();
    }
  }

  /**
   * Imported, since no bench is needed for it: nobody is named who issues it, and it is written.
   */
  @Test
  void needsNobodyWhoIssuesItAndTakesNoNumber() throws IOException {
    Spoken.importExample(logbook());
    Path page = folder.resolve("alone.html");
    Spoken.done("report", "1", "--sheet", "-o", page.toString(), "--logbook", logbook());
    assertFalse(Files.readString(page).contains("Customer"));
    Spoken refused = Spoken.by("report", "1", "--sheet", "--number", "C-1", "--logbook", logbook());
    assertEquals(2, refused.code());
    assertTrue(refused.err().contains("--number without --certificate or --annex"), refused.err());
  }
}
