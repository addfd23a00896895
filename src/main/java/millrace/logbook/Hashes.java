package millrace.logbook;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/** SHA-256 (FIPS 180-4), in hexadecimal. */
final class Hashes {
  private Hashes() {}

  static MessageDigest sha256() {
    try {
      return MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java has SHA-256", e);
    }
  }

  static String hex(byte[] bytes) {
    return HexFormat.of().formatHex(bytes);
  }
}
