// SPDX-License-Identifier: Apache-2.0
package millrace.watch.guard;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermission;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import millrace.document.FileMessageText;
import millrace.document.file.TemporaryFiles;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;

/** The secret that opens the pages to a reader on another machine. Immutable. */
public final class AccessToken {
  private static final int LEAST = 32;
  private static final int MOST = 200;
  private static final Set<PosixFilePermission> OTHERS =
      EnumSet.of(
          PosixFilePermission.GROUP_READ,
          PosixFilePermission.GROUP_WRITE,
          PosixFilePermission.OTHERS_READ,
          PosixFilePermission.OTHERS_WRITE);

  private final String secret;

  private AccessToken(String secret) {
    this.secret = secret;
  }

  /**
   * Reads a token, or makes one where the file does not exist yet.
   *
   * @param file contains it in its first line; only the owner may read it
   * @return the token
   * @throws BadInputException if others may read the file, or its token can be guessed
   */
  public static AccessToken in(Path file) {
    try {
      if (!Files.exists(file)) {
        TemporaryFiles.create(file);
        own(file);
        Files.writeString(file, SecretKeys.fresh() + "\n");
      }
      refuseSharing(file);
      List<String> lines = Files.readAllLines(file);
      String secret = lines.isEmpty() ? "" : lines.get(0).strip();
      if (!secret.matches("[A-Za-z0-9_-]{" + LEAST + "," + MOST + "}")) {
        throw fault(
            file,
            "its first line is no token",
            LEAST + " to " + MOST + " letters, digits, '-' and '_'",
            "Delete the file: a new one is made.");
      }
      return new AccessToken(secret);
    } catch (IOException e) {
      throw fault(
          file,
          "it cannot be read or made (" + FileMessageText.reason(e) + ")",
          "a file of your own",
          "Name another.");
    }
  }

  private static void own(Path file) throws IOException {
    if (posix(file)) {
      Files.setPosixFilePermissions(
          file, EnumSet.of(PosixFilePermission.OWNER_READ, PosixFilePermission.OWNER_WRITE));
    }
  }

  private static void refuseSharing(Path file) throws IOException {
    if (posix(file) && Files.getPosixFilePermissions(file).stream().anyMatch(OTHERS::contains)) {
      throw fault(
          file,
          "other users may read or write it",
          "a file that its owner alone may read",
          "Say 'chmod 600' to it, or delete it: a new one is made.");
    }
  }

  private static boolean posix(Path file) throws IOException {
    return Files.getFileStore(file.toAbsolutePath().getParent()).supportsFileAttributeView("posix");
  }

  private static BadInputException fault(Path file, String found, String expected, String hint) {
    return new BadInputException(
        new InputFault(FilePlace.of("--token-file " + file), found, expected, hint));
  }

  /** The path of the address that opens the pages, with the token in it. */
  public String entrance() {
    return "/enter?token=" + secret;
  }

  boolean is(String given) {
    return SecretKeys.same(secret, given);
  }

  /** The value that a browser sends afterwards; it survives a restart of the server. */
  String cookie() {
    return SecretKeys.derived(secret, "millrace watch: a browser that brought the token");
  }
}
