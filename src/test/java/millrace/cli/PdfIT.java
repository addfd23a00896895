// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import millrace.report.paper.PdfPage;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.contentstream.operator.Operator;
import org.apache.pdfbox.cos.COSName;
import org.apache.pdfbox.pdfparser.PDFStreamParser;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.PDResources;
import org.apache.pdfbox.pdmodel.interactive.documentnavigation.outline.PDOutlineItem;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.pdfbox.text.TextPosition;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Documents as PDF, read back by another part of the library than the one that writes. */
@Timeout(300)
class PdfIT {
  /** Small print of the trade; the least that the long tables of points and budgets have. */
  private static final float SMALLEST_PT = 6.4f;

  private static final int MOST_OF_A_NIGHT = 30;

  @TempDir private static Path folder;
  private static String book = "";

  @BeforeAll
  static void documents() {
    book = folder.resolve("a.db").toString();
    Spoken.importExample(book);
    String lab = "examples/osk.laboratory.yaml";
    Spoken.done(
        "report",
        "1",
        "--certificate",
        "--laboratory",
        lab,
        "--pdf",
        "--logbook",
        book,
        "-o",
        at("certificate"));
    Spoken.done(
        "report",
        "1",
        "--annex",
        "--laboratory",
        lab,
        "--pdf",
        "--logbook",
        book,
        "-o",
        at("annex"));
    Spoken.done("report", "1", "--sheet", "--logbook", book, "-o", at("sheet"));
  }

  private static String at(String name) {
    return folder.resolve(name + ".pdf").toString();
  }

  private static PDDocument read(String name) throws IOException {
    return Loader.loadPDF(Path.of(at(name)).toFile());
  }

  @ParameterizedTest
  @ValueSource(strings = {"certificate", "annex", "sheet"})
  void everyFontIsEmbedded(String name) throws IOException {
    int fonts = 0;
    try (PDDocument pdf = read(name)) {
      for (PDPage page : notEmpty(pdf.getPages())) {
        PDResources resources = page.getResources();
        for (COSName font : notEmpty(resources.getFontNames())) {
          assertTrue(resources.getFont(font).isEmbedded(), () -> name + ": " + font);
          fonts++;
        }
      }
    }
    assertTrue(fonts > 1, name);
  }

  @Test
  void everyPageOfACertificateSaysItsNumberTheUnitAndHowManyThereAre() throws IOException {
    try (PDDocument pdf = read("certificate")) {
      int pages = pdf.getNumberOfPages();
      assertTrue(pages >= 1 && pages <= 4, pages + " pages");
      PDFTextStripper text = new PDFTextStripper();
      for (int n = 1; n <= pages; n++) {
        text.setStartPage(n);
        text.setEndPage(n);
        String said = text.getText(pdf);
        assertTrue(said.contains("page " + n + " of " + pages), said);
        assertTrue(said.contains(", unit FX3-00042"), said);
        assertTrue(said.contains("certificate FEN-"), said);
      }
    }
  }

  /** The size of every letter but those in plots, which are drawings. */
  @ParameterizedTest
  @ValueSource(strings = {"certificate", "annex", "sheet"})
  void noLetterIsSmallerThanPeopleRead(String name) throws IOException {
    Set<Float> sizes = new TreeSet<>();
    PDFTextStripper letters =
        new PDFTextStripper() {
          @Override
          protected void processTextPosition(TextPosition letter) {
            sizes.add(letter.getYScale());
          }
        };
    try (PDDocument pdf = read(name)) {
      letters.getText(pdf);
    }
    assertTrue(notEmpty(sizes).iterator().next() >= SMALLEST_PT, name + ": " + sizes);
  }

  /** The finished report among the examples is that of a short night. */
  @Test
  void theReportOfAShortNightHasThirtyPagesAtMost() throws IOException {
    int pages = pages(Path.of("examples/report.html"));
    assertTrue(pages > 10 && pages <= MOST_OF_A_NIGHT, pages + " pages");
  }

  @Test
  @Tag("campaign")
  void theReportOfAWholeNightHasThirtyPagesAtMost() throws IOException {
    Spoken.done("demo", "--folder", folder.resolve("night").toString());
    int pages = pages(folder.resolve("night").resolve("report-1.html"));
    assertTrue(pages > 10 && pages <= MOST_OF_A_NIGHT, pages + " pages");
  }

  private static int pages(Path page) throws IOException {
    String html = Files.readString(page);
    byte[] bytes =
        PdfPage.of(
            out -> {
              try {
                out.write(html);
              } catch (IOException e) {
                throw new UncheckedIOException(e);
              }
            });
    try (PDDocument pdf = Loader.loadPDF(bytes)) {
      return pdf.getNumberOfPages();
    }
  }

  @Test
  void signsOfTheTradeAreLetters() throws IOException {
    try (PDDocument pdf = read("annex")) {
      String said = new PDFTextStripper().getText(pdf);
      assertTrue(said.contains("\u00b1") && said.contains("\u00b0C"), said);
      assertTrue(said.contains("\u00b5") || said.contains("\u03bc"), said);
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"certificate", "annex"})
  void headingsAreBookmarks(String name) throws IOException {
    List<String> titles = new ArrayList<>();
    try (PDDocument pdf = read(name)) {
      for (PDOutlineItem item :
          notEmpty(pdf.getDocumentCatalog().getDocumentOutline().children())) {
        titles.add(item.getTitle());
        assertTrue(item.findDestinationPage(pdf) != null, item.getTitle());
      }
    }
    assertTrue(
        titles.contains(name.equals("annex") ? "Instruments" : "Traceability"), titles.toString());
  }

  /** A picture made of dots would be an image among what the page draws with. */
  @Test
  void plotsAreDrawnAndNotPictures() throws IOException {
    try (PDDocument pdf = read("annex")) {
      for (PDPage page : notEmpty(pdf.getPages())) {
        for (COSName drawn : page.getResources().getXObjectNames()) {
          assertTrue(!page.getResources().isImageXObject(drawn), drawn.getName());
        }
      }
      assertTrue(drawings(pdf) > 200, "few paths are painted");
    }
  }

  /** Lines and areas by numbers: what paints a path (ISO 32000-1, 8.5.3). */
  private static long drawings(PDDocument pdf) throws IOException {
    long painted = 0;
    for (PDPage page : pdf.getPages()) {
      painted +=
          new PDFStreamParser(page)
              .parse().stream()
                  .filter(t -> t instanceof Operator o && o.getName().matches("S|f|B"))
                  .count();
    }
    return painted;
  }
}
