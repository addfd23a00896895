// SPDX-License-Identifier: Apache-2.0
package millrace.document.file;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Base64;
import millrace.document.FileMessageText;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;

/**
 * A file with its signature in a file beside it: the 64 bytes of Ed25519 (RFC 8032) over all of its
 * bytes, as other programs check them, too. Stateless.
 */
public final class SignedFile {
  private static final String END = ".sig";

  private SignedFile() {}

  /**
   * Signs a file as it is.
   *
   * @param file a file that is whole
   * @param key the laboratory's private key
   * @throws millrace.fault.OutputException if the signature cannot be written
   */
  public static void sign(Path file, LabSigningKey.Signing key) {
    Path beside = beside(file);
    try {
      byte[] signature = Base64.getDecoder().decode(key.sign(Files.readAllBytes(file)));
      Path draft = TemporaryFiles.begin(beside);
      try {
        Files.write(draft, signature);
        Files.move(draft, beside, StandardCopyOption.REPLACE_EXISTING);
      } finally {
        TemporaryFiles.drop(draft);
      }
    } catch (IOException e) {
      throw AtomicFile.unwritten(beside, "-o", e);
    }
  }

  /**
   * Tells whether a file is as the holder of a key signed it.
   *
   * @param file the file
   * @param key the public half
   * @return true if the signature beside it is of that key and of these bytes
   * @throws BadInputException if the file or its signature cannot be read
   */
  public static boolean isWhole(Path file, LabSigningKey.Checking key) {
    byte[] signature = read(beside(file));
    return key.vouches(read(file), Base64.getEncoder().encodeToString(signature));
  }

  private static Path beside(Path file) {
    return file.resolveSibling(file.getFileName() + END);
  }

  private static byte[] read(Path file) {
    try {
      return Files.readAllBytes(file);
    } catch (IOException e) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of(file.toString()),
              "it cannot be read (" + FileMessageText.reason(e) + ")",
              "a page with its signature, '" + END + "', beside it",
              "Have both sent to you: 'millrace report RUN --sign' writes them."));
    }
  }
}
