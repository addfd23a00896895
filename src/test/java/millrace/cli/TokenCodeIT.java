// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.zxing.BinaryBitmap;
import com.google.zxing.DecodeHintType;
import com.google.zxing.RGBLuminanceSource;
import com.google.zxing.common.GlobalHistogramBinarizer;
import com.google.zxing.qrcode.QRCodeReader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import millrace.logbook.Logbook;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** What a person reads, and a phone scans, where a page wants a token. */
@Timeout(120)
class TokenCodeIT {
  private static final int PIXELS = 4;
  private static final int WHITE = 0xffffff;

  @TempDir private Path folder;

  /** What the command prints at a terminal of so many columns, in a locale. */
  private List<String> printed(int columns, String locale, boolean shown, boolean toned)
      throws Exception {
    Path book = folder.resolve("night.db");
    Logbook.openOrCreate(book).close();
    ProcessBuilder builder =
        new ProcessBuilder(
            Path.of(System.getProperty("java.home"), "bin", "java").toString(),
            "-XX:TieredStopAtLevel=1",
            "-Dmillrace.shown=" + shown,
            "-Dmillrace.columns=" + columns,
            "-cp",
            System.getProperty("java.class.path"),
            "millrace.cli.Main",
            "watch",
            "--logbook",
            book.toString(),
            "--port",
            "0",
            "--token-file",
            folder.resolve("token").toString());
    builder.environment().put("LC_ALL", locale);
    builder.environment().put("TERM", toned ? "xterm-256color" : "dumb");
    builder.environment().remove("NO_COLOR");
    Path out = folder.resolve("out");
    Path err = folder.resolve("err");
    Process process = builder.redirectOutput(out.toFile()).redirectError(err.toFile()).start();
    try {
      while (!Files.readString(err).contains("Serving until")) {
        assertTrue(process.isAlive(), () -> read(err));
        Thread.sleep(20);
      }
    } finally {
      process.destroy();
      assertTrue(process.waitFor(60, TimeUnit.SECONDS));
    }
    return Files.readAllLines(out);
  }

  private static String read(Path file) {
    try {
      return Files.readString(file);
    } catch (java.io.IOException e) {
      return e.toString();
    }
  }

  /**
   * Reads the half blocks as a camera would: where a block is drawn the ink of the text is seen.
   */
  private static String scanned(List<String> lines, boolean inkIsDark) throws Exception {
    List<String> blocks = lines.stream().map(l -> l.replaceAll("\u001b\\[[0-9;]*m", "")).toList();
    int columns = blocks.get(0).length();
    int width = columns * PIXELS;
    int height = blocks.size() * 2 * PIXELS;
    int[] pixels = new int[width * height];
    for (int y = 0; y < height; y++) {
      for (int x = 0; x < width; x++) {
        char c = blocks.get(y / PIXELS / 2).charAt(x / PIXELS);
        boolean upper = y / PIXELS % 2 == 0;
        boolean ink = c == '\u2588' || c == (upper ? '\u2580' : '\u2584');
        pixels[y * width + x] = ink == inkIsDark ? 0 : WHITE;
      }
    }
    return new QRCodeReader()
        .decode(
            new BinaryBitmap(
                new GlobalHistogramBinarizer(new RGBLuminanceSource(width, height, pixels))),
            Map.of(DecodeHintType.PURE_BARCODE, true))
        .getText();
  }

  @Test
  void theAddressWithItsTokenStandsAtTheTerminalAndCanBeScanned() throws Exception {
    List<String> dark = printed(100, "C.UTF-8", true, true);
    assertTrue(dark.get(0).matches("http://localhost:\\d+/enter\\?token=\\S{43}"), dark.get(0));
    assertEquals(dark.get(0), scanned(dark.subList(1, dark.size()), true));
    assertTrue(dark.get(1).startsWith("\u001b["), "black on white, whatever the theme");
    String quiet = dark.get(1).replaceAll("\u001b\\[[0-9;]*m", "");
    assertTrue(quiet.isBlank(), "a quiet zone of four modules is two lines");
    assertTrue(dark.get(2).contains(quiet), dark.get(2));
    assertTrue(dark.get(3).contains("    \u2588") || dark.get(3).contains("    \u2580"));

    List<String> light = printed(100, "C.UTF-8", true, false);
    assertEquals(light.get(0), scanned(light.subList(1, light.size()), false));
  }

  @Test
  void theAddressStandsAloneWhereACodeCouldNotBeRead() throws Exception {
    assertEquals(1, printed(100, "C.UTF-8", false, true).size(), "a file");
    assertEquals(1, printed(100, "C", true, true).size(), "a terminal that is not UTF-8");
    List<String> narrow = printed(44, "C.UTF-8", true, true);
    assertTrue(narrow.stream().noneMatch(l -> l.contains("\u2580")), narrow::toString);
    assertTrue(String.join("", narrow).contains("/enter?token="), narrow::toString);
  }
}
