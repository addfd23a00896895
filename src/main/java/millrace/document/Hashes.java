// SPDX-License-Identifier: Apache-2.0
package millrace.document;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/** SHA-256 (FIPS 180-4), which identifies files, runs and rows. Stateless. */
public final class Hashes {
  private Hashes() {}

  /**
   * A hash for data in pieces.
   *
   * @return a new one
   */
  public static MessageDigest sha256() {
    try {
      return MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java has SHA-256", e);
    }
  }

  /**
   * The hash of bytes at hand.
   *
   * @param content the bytes
   * @return 64 lower-case hexadecimal digits
   */
  public static String sha256(byte[] content) {
    return hex(sha256().digest(content));
  }

  /**
   * Bytes as text.
   *
   * @param bytes the bytes
   * @return two lower-case hexadecimal digits each
   */
  public static String hex(byte[] bytes) {
    return HexFormat.of().formatHex(bytes);
  }
}
