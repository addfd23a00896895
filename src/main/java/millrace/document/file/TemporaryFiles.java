// SPDX-License-Identifier: Apache-2.0
package millrace.document.file;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermission;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Temporary files for atomic writes: each has its own name beside its target, with the number of
 * the writing process, until it is complete. The next draft in a folder deletes the remains of a
 * killed process there. Stateless.
 */
public final class TemporaryFiles {
  private static final long PROCESS = ProcessHandle.current().pid();

  /** The names of a draft and of SQLite's files beside it. */
  private static final Pattern NAME =
      Pattern.compile("\\..*\\.([0-9]{1,18})\\.part(-wal|-shm|-journal)?");

  /** Read access for owner and group only; the umask may restrict it further. */
  private static final Set<PosixFilePermission> PERMISSIONS =
      PosixFilePermissions.fromString("rw-r-----");

  private TemporaryFiles() {}

  /**
   * Makes an empty draft that owner and group may read, as far as the umask allows, after deleting
   * the remains of killed processes in its folder.
   *
   * @param target the file that it will become; its folder exists
   * @return the draft
   * @throws IOException if it cannot be made
   */
  public static Path begin(Path target) throws IOException {
    clear(target);
    return create(of(target));
  }

  /**
   * Makes an empty file that owner and group may read, as far as the umask lets them.
   *
   * @param file where there is none
   * @return the same
   * @throws IOException if it cannot be made
   */
  public static Path create(Path file) throws IOException {
    return Files.createFile(file, attributes(file));
  }

  /** The permissions of a new file; none if the system does not support them. */
  private static FileAttribute<?>[] attributes(Path file) {
    boolean known = file.getFileSystem().supportedFileAttributeViews().contains("posix");
    return known
        ? new FileAttribute<?>[] {PosixFilePermissions.asFileAttribute(PERMISSIONS)}
        : new FileAttribute<?>[0];
  }

  /** The draft of a target. */
  static Path of(Path target) {
    Path whole = target.toAbsolutePath();
    return whole.resolveSibling("." + whole.getFileName() + "." + PROCESS + ".part");
  }

  /**
   * Deletes a draft, and SQLite's files beside it.
   *
   * @param draft the file; may be gone
   * @throws IOException if it is there and cannot be deleted
   */
  public static void drop(Path draft) throws IOException {
    for (String end : new String[] {"", "-wal", "-shm", "-journal"}) {
      Files.deleteIfExists(draft.resolveSibling(draft.getFileName() + end));
    }
  }

  /** Deletes a draft that may be a folder, with all in it; what a link leads to stays. */
  static void dropFolder(Path draft) throws IOException {
    if (Files.isDirectory(draft, LinkOption.NOFOLLOW_LINKS)) {
      try (DirectoryStream<Path> files = Files.newDirectoryStream(draft)) {
        for (Path file : files) {
          dropFolder(file);
        }
      }
    }
    Files.deleteIfExists(draft);
  }

  /** Deletes drafts of ended processes. */
  static void clear(Path target) throws IOException {
    dropFolder(of(target));
    drop(of(target));
    Path folder = target.toAbsolutePath().getParent();
    try (DirectoryStream<Path> all = Files.newDirectoryStream(folder, ".*.part*")) {
      for (Path each : all) {
        Matcher named = NAME.matcher(each.getFileName().toString());
        if (named.matches() && ProcessHandle.of(Long.parseLong(named.group(1))).isEmpty()) {
          dropFolder(each);
        }
      }
    } catch (IOException mayNotBeListed) {
      // Remains of other processes do not prevent the write.
    }
  }
}
