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
 * Files on their way: each has a name of its own beside its target, with the number of the process
 * that writes it, until it is whole. What a killed process left goes with the next draft in that
 * folder. Stateless.
 */
public final class TemporaryFiles {
  private static final long PROCESS = ProcessHandle.current().pid();

  /** A draft, and what SQLite puts beside one. */
  private static final Pattern NAME =
      Pattern.compile("\\..*\\.([0-9]{1,18})\\.part(-wal|-shm|-journal)?");

  /** Owner and group read, nobody further; the umask may say less. */
  private static final Set<PosixFilePermission> PERMISSIONS =
      PosixFilePermissions.fromString("rw-r-----");

  private TemporaryFiles() {}

  /**
   * Makes an empty draft that owner and group may read, as far as the umask lets them, after what
   * killed processes left in its folder is gone.
   *
   * @param target the file that it is to become; its folder exists
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

  /** What a new file is made with; nothing where the system knows no such permissions. */
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
   * Deletes a draft, and what SQLite put beside it.
   *
   * @param draft the file; may be gone
   * @throws IOException if it is there and cannot be deleted
   */
  public static void drop(Path draft) throws IOException {
    for (String end : new String[] {"", "-wal", "-shm", "-journal"}) {
      Files.deleteIfExists(draft.resolveSibling(draft.getFileName() + end));
    }
  }

  /** Deletes a draft that may be a folder with files in it; no other folder lies in one. */
  static void dropFolder(Path draft) throws IOException {
    if (Files.isDirectory(draft, LinkOption.NOFOLLOW_LINKS)) {
      try (DirectoryStream<Path> files = Files.newDirectoryStream(draft)) {
        for (Path file : files) {
          Files.deleteIfExists(file);
        }
      }
    }
    Files.deleteIfExists(draft);
  }

  /** Deletes drafts whose process is gone. */
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
      // What others left is no reason not to write.
    }
  }
}
