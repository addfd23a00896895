// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.io.ByteArrayInputStream;
import java.io.InputStream;
import java.util.Optional;
import java.util.function.IntFunction;

/** The pieces of a kept file as one stream, each fetched when its turn comes. Single-threaded. */
final class StoredFileStream extends InputStream {
  private final IntFunction<Optional<byte[]>> fetch;
  private int number;
  private ByteArrayInputStream piece = new ByteArrayInputStream(new byte[0]);

  StoredFileStream(IntFunction<Optional<byte[]>> fetch) {
    this.fetch = fetch;
  }

  /** Makes sure that the piece has bytes, unless the file is at its end. */
  private boolean more() {
    while (piece.available() == 0) {
      Optional<byte[]> next = fetch.apply(number);
      if (next.isEmpty()) {
        return false;
      }
      number++;
      piece = new ByteArrayInputStream(next.get());
    }
    return true;
  }

  @Override
  public int read() {
    return more() ? piece.read() : -1;
  }

  @Override
  public int read(byte[] into, int from, int length) {
    if (length == 0) {
      return 0;
    }
    return more() ? piece.read(into, from, length) : -1;
  }
}
