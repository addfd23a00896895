// SPDX-License-Identifier: Apache-2.0
package millrace.report.label;

import com.google.zxing.BarcodeFormat;
import com.google.zxing.EncodeHintType;
import com.google.zxing.WriterException;
import com.google.zxing.common.BitMatrix;
import com.google.zxing.qrcode.QRCodeWriter;
import com.google.zxing.qrcode.decoder.ErrorCorrectionLevel;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;

/** QR code (ISO/IEC 18004). Up to a seventh of it may be soiled (error correction of level M). */
final class QrCode {
  /** Quiet zone on each side, in modules (ISO/IEC 18004; from memory). */
  private static final int QUIET = 4;

  private final BitMatrix modules;

  private QrCode(BitMatrix modules) {
    this.modules = modules;
  }

  /**
   * The content of a label: the run and the digest of its data, {@code URN:UUID:} with the UUID
   * (RFC 9562, 4; from memory), a blank, {@code SHA-256:} with 64 hex digits. All letters are
   * capitals, since these take the least space.
   */
  static String content(UUID run, String digest) {
    return ("urn:uuid:" + run + " sha-256:" + digest).toUpperCase(Locale.ROOT);
  }

  static QrCode of(String content) {
    try {
      return new QrCode(
          new QRCodeWriter()
              .encode(
                  content,
                  BarcodeFormat.QR_CODE,
                  0,
                  0,
                  Map.of(
                      EncodeHintType.MARGIN,
                      QUIET,
                      EncodeHintType.ERROR_CORRECTION,
                      ErrorCorrectionLevel.M)));
    } catch (WriterException e) {
      throw new IllegalStateException("some hundred characters fit into a code", e);
    }
  }

  /** Modules per side, with the quiet zone. */
  int side() {
    return modules.getWidth();
  }

  /** Whether a module is dark; what lies outside is not. */
  boolean isDark(int x, int y) {
    return y < side() && modules.get(x, y);
  }

  /** The dark modules as an SVG path; its unit is one module. */
  String path() {
    StringBuilder path = new StringBuilder();
    for (int y = 0; y < side(); y++) {
      for (int x = 0; x < side(); x++) {
        if (modules.get(x, y)) {
          int run = run(x, y);
          path.append("M%s %sh%sv1h-%sz".formatted(x, y, run, run));
          x += run - 1;
        }
      }
    }
    return path.toString();
  }

  private int run(int x, int y) {
    int end = x;
    while (end < side() && modules.get(end, y)) {
      end++;
    }
    return end - x;
  }
}
