// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.Key;
import java.security.KeyPair;
import java.security.KeyPairGenerator;
import java.security.NoSuchAlgorithmException;
import java.util.Base64;

/**
 * The two halves of a fresh key as PEM files.
 *
 * @param secret the private half
 * @param open the public half
 */
public record Keys(Path secret, Path open) {

  /** Makes a pair; its files bear that name. */
  public static Keys in(Path folder, String name) {
    try {
      KeyPair pair = KeyPairGenerator.getInstance("Ed25519").generateKeyPair();
      return new Keys(
          pem(folder.resolve(name + ".pem"), "PRIVATE KEY", pair.getPrivate()),
          pem(folder.resolve(name + "-public.pem"), "PUBLIC KEY", pair.getPublic()));
    } catch (NoSuchAlgorithmException | IOException e) {
      throw new IllegalStateException(e);
    }
  }

  private static Path pem(Path file, String kind, Key key) throws IOException {
    String text = Base64.getMimeEncoder(64, new byte[] {'\n'}).encodeToString(key.getEncoded());
    return Files.writeString(
        file, "-----BEGIN %s-----\n%s\n-----END %s-----\n".formatted(kind, text, kind));
  }
}
