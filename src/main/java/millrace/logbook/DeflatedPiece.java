// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.io.ByteArrayOutputStream;
import java.util.zip.DataFormatException;
import java.util.zip.Deflater;
import java.util.zip.Inflater;

/**
 * A piece of a file as it is kept: compressed (RFC 1950), since a file of readings is mostly
 * digits, and its checksum tells whether the piece is damaged.
 */
final class DeflatedPiece {
  private static final int BUFFER = 1 << 16;

  private DeflatedPiece() {}

  /**
   * Compresses a piece, quickly: the best compression takes three times as long for a quarter less.
   */
  static byte[] of(byte[] content) {
    Deflater deflater = new Deflater(Deflater.BEST_SPEED);
    try {
      deflater.setInput(content);
      deflater.finish();
      ByteArrayOutputStream out = new ByteArrayOutputStream();
      byte[] buffer = new byte[BUFFER];
      while (!deflater.finished()) {
        out.write(buffer, 0, deflater.deflate(buffer));
      }
      return out.toByteArray();
    } finally {
      deflater.end();
    }
  }

  /**
   * The content of a piece.
   *
   * @throws DataFormatException if it is damaged
   */
  static byte[] content(byte[] kept) throws DataFormatException {
    Inflater inflater = new Inflater();
    try {
      inflater.setInput(kept);
      ByteArrayOutputStream out = new ByteArrayOutputStream();
      byte[] buffer = new byte[BUFFER];
      while (!inflater.finished()) {
        int got = inflater.inflate(buffer);
        if (got == 0 && !inflater.finished()) {
          throw new DataFormatException("a piece of a file ends too early");
        }
        out.write(buffer, 0, got);
      }
      return out.toByteArray();
    } finally {
      inflater.end();
    }
  }
}
