// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.io.IOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.function.Consumer;
import millrace.document.FileMessageText;
import millrace.document.file.TemporaryFiles;
import millrace.fault.LogbookException;

/**
 * Creates a database completely under another name and moves it to its place in one step, so that a
 * killed process leaves nothing that disturbs a later one.
 */
final class LogbookCreation {
  /** A file that SQLite only began: a header and nothing else. */
  private static final long ONE_PAGE = 4096;

  private LogbookCreation() {}

  /** An empty file, or one whose creation was interrupted before it had content. */
  static boolean isEmpty(Path path) {
    try {
      if (!Files.isRegularFile(path) || Files.size(path) > ONE_PAGE) {
        return false;
      }
    } catch (IOException e) {
      return false; // opening it reports the error
    }
    return Files.isReadable(path) && isUnborn(path);
  }

  private static boolean isUnborn(Path path) {
    try (SqlSession session = SqliteConnections.forReading(path)) {
      return Migrations.identity(session).unborn();
    } catch (LogbookException e) {
      return false; // opening it reports the error
    }
  }

  /** Creates an empty logbook if there is no file; another process may be faster. */
  static void of(Path path) {
    beside(
        path,
        "it cannot be made",
        part -> {
          try (SqlSession session = SqliteConnections.forWriting(part)) {
            Migrations.forward(session);
          }
        },
        true);
  }

  /** Has a file written under another name, and moves it to its place when it is complete. */
  static void beside(Path target, String trouble, Consumer<Path> writing) {
    beside(target, trouble, writing, false);
  }

  private static void beside(
      Path target, String trouble, Consumer<Path> writing, boolean othersMayBeFirst) {
    try {
      Path part = TemporaryFiles.begin(target);
      try {
        writing.accept(part);
        put(part, target, othersMayBeFirst);
      } finally {
        TemporaryFiles.drop(part);
      }
    } catch (IOException e) {
      throw SqliteErrorText.of(
          target,
          trouble + ": " + FileMessageText.reason(e),
          "Check that the folder exists, that you may write in it, and that it has room.");
    }
  }

  /**
   * A hard link fails if the target exists; where links are not supported, the target is only
   * looked at before.
   */
  private static void put(Path part, Path target, boolean othersMayBeFirst) throws IOException {
    try {
      Files.createLink(target, part);
    } catch (FileAlreadyExistsException e) {
      if (!othersMayBeFirst) {
        throw e;
      }
    } catch (IOException | UnsupportedOperationException e) {
      Files.move(part, target);
    }
  }

  /** Refuses what cannot be opened, since it is not there. */
  static void refuseMissing(Path path) {
    if (Files.isDirectory(path)) {
      throw SqliteErrorText.of(path, "this is a directory", "Name the file in it.");
    }
    if (!Files.exists(path)) {
      throw SqliteErrorText.of(
          path,
          "there is no such file",
          "Name another with --logbook, or make one: 'run' and 'import' do.");
    }
  }

  /** Refuses what cannot be made. */
  static void refuseMissingFolder(Path path) {
    Path folder = path.toAbsolutePath().getParent();
    if (folder == null || !Files.isDirectory(folder)) {
      throw SqliteErrorText.of(path, "its folder does not exist", "Make the folder first.");
    }
  }
}
