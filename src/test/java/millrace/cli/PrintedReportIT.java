// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.zip.DataFormatException;
import java.util.zip.Inflater;
import millrace.Needs;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * A real browser prints reports: all that a screen folds stands on paper, and a night stays a
 * document that a person leafs through.
 */
@Timeout(600)
class PrintedReportIT {
  /** What a whole night may take, with budgets, points and the methods cited. */
  private static final int MOST_OF_A_NIGHT = 30;

  private static final Pattern PAGE = Pattern.compile("/Type\\s*/Page(?!s)");
  private static final Pattern STREAM = Pattern.compile("stream\r?\n");

  @TempDir Path folder;

  @Test
  void aShortNightPrintsWholeOnFewPages() throws Exception {
    Needs.program("chromium");
    String book = folder.resolve("short.db").toString();
    millrace(
        "run",
        "sequences/short-night.yaml",
        "--unit",
        "FX3-00042",
        "--simulated",
        "--datasheet",
        "examples/fx-3.datasheet.yaml",
        "--logbook",
        book);
    Path page = folder.resolve("report.html");
    millrace("report", "1", "--logbook", book, "-o", page.toString());
    int pages = printed(page);
    int folded = printed(unfolded(page));
    assertTrue(pages > 10 && pages <= MOST_OF_A_NIGHT, () -> pages + " pages");
    assertEquals(folded, pages, "what is folded on a screen is printed as if it were open");
  }

  @Test
  @Tag("campaign")
  void aWholeNightPrintsOnThirtyPagesAtMost() throws Exception {
    Needs.program("chromium");
    millrace("demo", "--folder", folder.resolve("night").toString());
    int pages = printed(folder.resolve("night").resolve("report-1.html"));
    assertTrue(pages > 10 && pages <= MOST_OF_A_NIGHT, () -> pages + " pages");
  }

  private void millrace(String... words) {
    Spoken.done(words);
  }

  private Path unfolded(Path page) throws Exception {
    String html = Files.readString(page);
    assertTrue(html.contains("<details>"), "nothing is folded");
    Path open = folder.resolve("open.html");
    return Files.writeString(open, html.replace("<details>", "<details open=\"open\">"));
  }

  /** Prints a page and counts the sheets. */
  private int printed(Path page) throws Exception {
    Path pdf = Files.createTempFile(folder, "printed", ".pdf");
    Process browser =
        new ProcessBuilder(
                "chromium",
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--no-pdf-header-footer",
                "--user-data-dir=" + folder.resolve("browser"),
                "--print-to-pdf=" + pdf,
                page.toUri().toString())
            .redirectErrorStream(true)
            .redirectOutput(folder.resolve("browser.txt").toFile())
            .start();
    assertEquals(0, browser.waitFor(), () -> "see " + folder.resolve("browser.txt"));
    return pages(Files.readAllBytes(pdf));
  }

  /** Counts page objects, also in compressed streams of objects (ISO 32000-1, 7.5.7). */
  private static int pages(byte[] pdf) throws DataFormatException {
    String raw = new String(pdf, StandardCharsets.ISO_8859_1);
    int pages = count(raw);
    Matcher stream = STREAM.matcher(raw);
    while (stream.find()) {
      int dictionary = raw.lastIndexOf("obj", stream.start());
      if (raw.substring(dictionary, stream.start()).contains("/ObjStm")) {
        pages += count(inflated(pdf, stream.end()));
      }
    }
    return pages;
  }

  private static String inflated(byte[] pdf, int from) throws DataFormatException {
    Inflater inflater = new Inflater();
    inflater.setInput(pdf, from, pdf.length - from);
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    byte[] buffer = new byte[8192];
    for (int n = inflater.inflate(buffer); n > 0; n = inflater.inflate(buffer)) {
      out.write(buffer, 0, n);
    }
    inflater.end();
    return out.toString(StandardCharsets.ISO_8859_1);
  }

  private static int count(String text) {
    return (int) PAGE.matcher(text).results().count();
  }
}
