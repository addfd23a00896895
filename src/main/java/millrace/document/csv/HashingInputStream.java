// SPDX-License-Identifier: Apache-2.0
package millrace.document.csv;

import java.io.BufferedInputStream;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.security.MessageDigest;
import java.util.Arrays;
import millrace.document.Hashes;

/**
 * Bytes of a file that are counted and hashed while they are read; a leading byte-order mark is
 * hashed but not passed on. Single-threaded.
 */
final class HashingInputStream extends FilterInputStream {
  private static final byte[] MARK = {(byte) 0xef, (byte) 0xbb, (byte) 0xbf};
  private static final int BUFFER = 1 << 16;

  private final MessageDigest hash = Hashes.sha256();
  private long count;
  private boolean odd;

  HashingInputStream(InputStream in) throws IOException {
    super(new BufferedInputStream(in, BUFFER));
    this.in.mark(MARK.length);
    byte[] first = this.in.readNBytes(MARK.length);
    if (Arrays.equals(first, MARK)) {
      hash.update(first);
      count = first.length;
    } else {
      this.in.reset();
    }
  }

  @Override
  public int read() throws IOException {
    byte[] one = new byte[1];
    return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
  }

  @Override
  public int read(byte[] into, int from, int length) throws IOException {
    int got = super.read(into, from, length);
    if (got > 0) {
      hash.update(into, from, got);
      count += got;
      for (int i = from; i < from + got; i++) {
        odd ^= into[i] == '"';
      }
    }
    return got;
  }

  /** Tells whether an odd number of quotation marks was read: one of them is not closed. */
  boolean oddQuotes() {
    return odd;
  }

  long count() {
    return count;
  }

  /** The hash of what was read so far; reading may go on. */
  String sha256() {
    try {
      return Hashes.hex(((MessageDigest) hash.clone()).digest());
    } catch (CloneNotSupportedException e) {
      throw new IllegalStateException("SHA-256 of every Java can be copied", e);
    }
  }
}
