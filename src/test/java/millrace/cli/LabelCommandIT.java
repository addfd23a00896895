// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.zxing.BinaryBitmap;
import com.google.zxing.RGBLuminanceSource;
import com.google.zxing.ReaderException;
import com.google.zxing.common.HybridBinarizer;
import com.google.zxing.qrcode.QRCodeReader;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import javax.imageio.ImageIO;
import millrace.logbook.Logbook;
import millrace.logbook.RunSummary;
import org.apache.batik.transcoder.TranscoderException;
import org.apache.batik.transcoder.TranscoderInput;
import org.apache.batik.transcoder.TranscoderOutput;
import org.apache.batik.transcoder.image.ImageTranscoder;
import org.apache.batik.transcoder.image.PNGTranscoder;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.rendering.PDFRenderer;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Labels, decoded from their pictures by the reader of the library whose writer made the code. */
class LabelCommandIT {
  private static final float DPI = 203;

  @TempDir private static Path folder;
  private static String book = "";

  @BeforeAll
  static void measure() throws IOException {
    book = folder.resolve("a.db").toString();
    Path sheet = folder.resolve("k.yaml");
    Files.writeString(
        sheet,
        """
        datasheet: K
        recalibrate: 12 months
        ranges: {1mA: {nominal: 1 mA}}
        limits:
          - {quantity: current_error, range: 1mA, lower: -100 ppm, upper: 100 ppm,
             when: {terminal voltage: [0 V, 3 V]}}
        """);
    imported(sheet, "K-1", "1.00001e-3");
    imported(sheet, "K-2", "1.00041e-3");
    Spoken.by(
        "run",
        "sequences/quick-look.yaml",
        "--unit",
        "FX3-00042",
        "--simulated",
        "--datasheet",
        "examples/fx-3.datasheet.yaml",
        "--logbook",
        book);
  }

  private static void imported(Path sheet, String unit, String currentA) throws IOException {
    Path csv = folder.resolve(unit + ".csv");
    StringBuilder rows =
        new StringBuilder(
            "unit,range,nominal_A,load_ohm,temperature_degC,current_A,u_current_A,taken_at\n");
    for (int load : new int[] {0, 1000, 2000, 3000}) {
      rows.append(
          "%s,1mA,0.001,%s,23,%s,1e-9,2026-02-10T09:00:00+01:00%n".formatted(unit, load, currentA));
    }
    Files.writeString(csv, rows);
    Spoken said =
        Spoken.by("import", csv.toString(), "--datasheet", sheet.toString(), "--logbook", book);
    assertEquals(0, said.code(), said.err());
  }

  private static Path label(String run, String name, String... more) {
    Path file = folder.resolve(name);
    List<String> words = new ArrayList<>(List.of("label", run, "-o", file.toString()));
    words.addAll(List.of("--logbook", book, "--laboratory", "examples/osk.laboratory.yaml"));
    words.addAll(List.of(more));
    Spoken said = Spoken.by(words.toArray(String[]::new));
    assertEquals(0, said.code(), said.err());
    return file;
  }

  private static String expected(long run) {
    try (Logbook open = Logbook.readOnly(Path.of(book))) {
      RunSummary summary = open.find(Long.toString(run));
      return ("urn:uuid:" + summary.uuid() + " sha-256:" + summary.digest().orElseThrow())
          .toUpperCase(Locale.ROOT);
    }
  }

  private static String decoded(BufferedImage image) throws ReaderException {
    int w = image.getWidth();
    int h = image.getHeight();
    int[] pixels = image.getRGB(0, 0, w, h, null, 0, w);
    return new QRCodeReader()
        .decode(new BinaryBitmap(new HybridBinarizer(new RGBLuminanceSource(w, h, pixels))))
        .getText();
  }

  /** As a common label printer would print it. */
  @ParameterizedTest
  @CsvSource({"62x29mm, 62, 29", "30x40mm, 30, 40", "40x20mm, 40, 20"})
  void aPdfHasItsSizeAndACodeThatLeadsToTheRun(String size, int widthMm, int heightMm)
      throws Exception {
    Path file = label("1", size + ".pdf", "--size", size);
    try (PDDocument pdf = Loader.loadPDF(file.toFile())) {
      assertEquals(1, pdf.getNumberOfPages());
      assertEquals(widthMm / 25.4 * 72, pdf.getPage(0).getMediaBox().getWidth(), 0.5);
      assertEquals(heightMm / 25.4 * 72, pdf.getPage(0).getMediaBox().getHeight(), 0.5);
      assertEquals(expected(1), decoded(new PDFRenderer(pdf).renderImageWithDPI(0, DPI)));
    }
  }

  @Test
  void aDrawingHasACodeThatLeadsToTheRun() throws Exception {
    Path file = label("1", "drawn.svg");
    assertEquals(expected(1), decoded(rendered(file)));
  }

  private static BufferedImage rendered(Path svg) throws IOException, TranscoderException {
    PNGTranscoder transcoder = new PNGTranscoder();
    transcoder.addTranscodingHint(
        ImageTranscoder.KEY_PIXEL_UNIT_TO_MILLIMETER, (float) (25.4 / DPI));
    ByteArrayOutputStream png = new ByteArrayOutputStream();
    transcoder.transcode(new TranscoderInput(svg.toUri().toString()), new TranscoderOutput(png));
    return ImageIO.read(new ByteArrayInputStream(png.toByteArray()));
  }

  @Test
  void aPassSaysWhenItIsDueAndAFailDoesNot() throws IOException {
    String passed = Files.readString(label("1", "passed.svg"));
    for (String part :
        new String[] {
          ">K-1<", ">Pass<", ">tested 2026-02-10<", ">due 2027-02-10<", ">run 1<", "Fennick"
        }) {
      assertTrue(passed.contains(part), part + " is missing");
    }
    String failed = Files.readString(label("2", "failed.svg"));
    assertTrue(failed.contains(">Fail<") && failed.contains(">tested 2026-02-10<"), failed);
    assertFalse(failed.contains("due "), "a unit that failed has a day until which it counts");
  }

  @Test
  void whatWasSimulatedGetsNone() {
    Path file = folder.resolve("simulated.svg");
    Spoken said = Spoken.by("label", "3", "-o", file.toString(), "--logbook", book);
    assertEquals(2, said.code());
    assertEquals(
        "millrace: run 3: it was simulated, so no real unit stands behind it; expected a run of a"
            + " real unit: a label is stuck on one. 'millrace runs' lists them with their"
            + " origin.\n",
        said.err());
    assertFalse(Files.exists(file));
  }

  @Test
  void aRunThatWasChangedAfterwardsGetsNone() throws SQLException {
    Path copy = folder.resolve("changed.db");
    assertEquals(0, Spoken.by("export", "--backup", copy.toString(), "--logbook", book).code());
    try (Connection sql = DriverManager.getConnection("jdbc:sqlite:" + copy);
        Statement by = sql.createStatement()) {
      List<String> triggers = new ArrayList<>();
      try (ResultSet rows =
          by.executeQuery("SELECT name FROM sqlite_master WHERE type='trigger'")) {
        while (rows.next()) {
          triggers.add(rows.getString(1));
        }
      }
      for (String trigger : triggers) {
        by.execute("DROP TRIGGER " + trigger);
      }
      assertEquals(1, by.executeUpdate("UPDATE run SET unit = 'K-9' WHERE id = 1"));
    }
    Path file = folder.resolve("changed.svg");
    Spoken said = Spoken.by("label", "1", "-o", file.toString(), "--logbook", copy.toString());
    assertEquals(5, said.code());
    assertTrue(said.err().contains("since a label rests on it"), said.err());
    assertFalse(Files.exists(file));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "62x29   | is no size of a label; expected width and height, as in 62x29mm",
        "9x9mm   | a label of 9x9mm; expected 20x12mm to 300x300mm",
        "20x12mm | millrace: --size: 20x12mm leaves modules of 0.22 mm and letters of",
      })
  void refusesASizeThatNobodyCouldRead(String size, String words) {
    Spoken said = Spoken.by("label", "1", "--size", size, "--logbook", book);
    assertEquals(2, said.code());
    assertTrue(said.err().contains(words), said.err());
  }
}
