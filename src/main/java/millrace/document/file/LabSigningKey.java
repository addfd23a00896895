// SPDX-License-Identifier: Apache-2.0
package millrace.document.file;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.PrivateKey;
import java.security.PublicKey;
import java.security.Signature;
import java.security.spec.KeySpec;
import java.security.spec.PKCS8EncodedKeySpec;
import java.security.spec.X509EncodedKeySpec;
import java.util.Base64;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import millrace.document.FileMessageText;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;

/**
 * The key of a laboratory: Ed25519 (RFC 8032) in PEM files (RFC 7468), the private half as PKCS #8,
 * the public half as SubjectPublicKeyInfo, as {@code openssl genpkey} and {@code openssl pkey
 * -pubout} write them. Stateless.
 */
public final class LabSigningKey {
  private static final String ALGORITHM = "Ed25519";
  private static final Pattern PEM =
      Pattern.compile("-----BEGIN ([A-Z ]+)-----([A-Za-z0-9+/=\\s]+)-----END \\1-----");
  private static final int LONGEST = 10_000;

  private LabSigningKey() {}

  /** The private half. */
  public interface Signing {
    /**
     * Signs bytes.
     *
     * @param bytes what is signed
     * @return the signature in base64
     */
    String sign(byte[] bytes);
  }

  /** The public half. */
  public interface Checking {
    /**
     * Tells whether a signature is of these bytes and of this key.
     *
     * @param bytes what was signed
     * @param signature in base64; anything else is no signature
     * @return true if it is
     */
    boolean vouches(byte[] bytes, String signature);
  }

  /**
   * Reads the private half.
   *
   * @param file a PEM file
   * @return the key
   * @throws BadInputException if it cannot be read or is no such key
   */
  public static Signing signing(Path file) {
    byte[] der = der(file, "PRIVATE KEY");
    PrivateKey key = made(file, "PRIVATE KEY", factory -> factory.generatePrivate(spec(der, true)));
    return bytes -> {
      try {
        Signature signature = Signature.getInstance(ALGORITHM);
        signature.initSign(key);
        signature.update(bytes);
        return Base64.getEncoder().encodeToString(signature.sign());
      } catch (GeneralSecurityException e) {
        throw new IllegalStateException("every Java from 17 on signs with Ed25519", e);
      }
    };
  }

  /**
   * Reads the public half.
   *
   * @param file a PEM file
   * @return the key
   * @throws BadInputException if it cannot be read or is no such key
   */
  public static Checking checking(Path file) {
    byte[] der = der(file, "PUBLIC KEY");
    PublicKey key = made(file, "PUBLIC KEY", factory -> factory.generatePublic(spec(der, false)));
    return (bytes, text) -> {
      try {
        Signature signature = Signature.getInstance(ALGORITHM);
        signature.initVerify(key);
        signature.update(bytes);
        return signature.verify(Base64.getDecoder().decode(text));
      } catch (GeneralSecurityException | IllegalArgumentException e) {
        return false; // not of the length or the letters of a signature
      }
    };
  }

  private static KeySpec spec(byte[] der, boolean secret) {
    return secret ? new PKCS8EncodedKeySpec(der) : new X509EncodedKeySpec(der);
  }

  /** Makes a key. */
  private interface Making<T> {
    T with(KeyFactory factory) throws GeneralSecurityException;
  }

  private static <T> T made(Path file, String kind, Making<T> making) {
    try {
      return making.with(KeyFactory.getInstance(ALGORITHM));
    } catch (GeneralSecurityException e) {
      throw refused(file, "the key in it is none of Ed25519", kind);
    }
  }

  private static byte[] der(Path file, String kind) {
    Matcher found = PEM.matcher(text(file, kind));
    if (!found.find()) {
      throw refused(file, "there is no PEM block in it", kind);
    }
    if (!found.group(1).equals(kind)) {
      throw refused(file, "it holds a block of kind '" + found.group(1) + "'", kind);
    }
    try {
      return Base64.getMimeDecoder().decode(found.group(2));
    } catch (IllegalArgumentException e) {
      throw refused(file, "its PEM block is damaged", kind);
    }
  }

  private static String text(Path file, String kind) {
    try {
      if (Files.size(file) > LONGEST) {
        throw refused(file, "it is longer than any key", kind);
      }
      return Files.readString(file, StandardCharsets.ISO_8859_1);
    } catch (IOException e) {
      throw refused(file, "it cannot be read (" + FileMessageText.reason(e) + ")", kind);
    }
  }

  private static BadInputException refused(Path file, String found, String kind) {
    boolean secret = kind.startsWith("PRIVATE");
    return new BadInputException(
        new InputFault(
            FilePlace.of(file.toString()),
            found,
            "a PEM file with a %s of Ed25519".formatted(kind),
            secret
                ? "'openssl genpkey -algorithm ed25519 -out lab.pem' makes one; keep it to"
                    + " yourself."
                : "'openssl pkey -in lab.pem -pubout -out lab-public.pem' writes it from the"
                    + " private one."));
  }
}
