// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.io.DataInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.BasicFileAttributes;
import java.nio.file.attribute.FileTime;
import java.util.Arrays;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Function;
import millrace.fault.LogbookException;
import org.jspecify.annotations.Nullable;

/**
 * Checks whether the file at a path is still the one that was opened there: the same device and
 * inode, and the same logbook in it. The identity of the logbook in the file is read only if the
 * file was written since the last check. Single-threaded.
 */
final class LogbookFileIdentity {
  /** Another process may be checkpointing the write-ahead log into the file just now. */
  private static final int LOOKS = 3;

  /** How a file begins, and where its application_id stands (SQLite, Database File Format, 1.3). */
  private static final byte[] MAGIC = "SQLite format 3\0".getBytes(StandardCharsets.US_ASCII);

  private static final int APPLICATION_ID_AT = 68;

  /** The letters MRLB: the application_id of a logbook. */
  static final int APPLICATION_ID = 0x4d524c42;

  /** The state of the file. */
  enum Fate {
    /** Unchanged. */
    THERE(""),
    /** No file is there. */
    MISSING("is not where it was any more"),
    /** Another file is there. */
    REPLACED("was moved away, and another file stands in its place"),
    /** The same file has other content. */
    OVERWRITTEN("was written over by another file");

    private final String words;

    Fate(String words) {
      this.words = words;
    }
  }

  private final Path path;
  private final @Nullable Object key;
  private final String identity;
  private final Function<Path, Optional<String>> reader;
  private long size;
  private FileTime written;

  private LogbookFileIdentity(
      Path path,
      BasicFileAttributes now,
      String identity,
      Function<Path, Optional<String>> reader) {
    this.path = path;
    this.key = now.fileKey();
    this.identity = identity;
    this.reader = reader;
    this.size = now.size();
    this.written = now.lastModifiedTime();
  }

  /**
   * The file as it is now.
   *
   * @param path where it was opened
   * @param identity which logbook it is
   * @param reader reads which logbook a file is; empty if it is none
   * @return empty where that cannot be told
   */
  static Optional<LogbookFileIdentity> of(
      Path path, String identity, Function<Path, Optional<String>> reader) {
    try {
      BasicFileAttributes now = Files.readAttributes(path, BasicFileAttributes.class);
      return Optional.of(new LogbookFileIdentity(path.toAbsolutePath(), now, identity, reader));
    } catch (IOException e) {
      return Optional.empty();
    }
  }

  Fate now() {
    BasicFileAttributes now;
    try {
      now = Files.readAttributes(path, BasicFileAttributes.class);
    } catch (IOException e) {
      return Fate.MISSING;
    }
    if (!Objects.equals(now.fileKey(), key)) {
      return Fate.REPLACED;
    }
    if (now.size() == size && now.lastModifiedTime().equals(written)) {
      return Fate.THERE;
    }
    size = now.size();
    written = now.lastModifiedTime();
    return holdsIt() ? Fate.THERE : Fate.OVERWRITTEN;
  }

  /**
   * A file that identifies itself as another logbook is another one. A file without identity that
   * begins like a logbook is this one during a checkpoint of its write-ahead log; if that fails, as
   * on a full disk, only the log can repair it, and it must be kept.
   */
  private boolean holdsIt() {
    for (int look = 0; look < LOOKS; look++) {
      Optional<String> says = reader.apply(path);
      if (says.isPresent()) {
        return says.get().equals(identity);
      }
    }
    return applicationId(path).equals(OptionalInt.of(APPLICATION_ID));
  }

  /**
   * The application_id of a SQLite file, read without opening it as a database.
   *
   * @param path a file
   * @return its application_id; empty if it is no SQLite file or cannot be read
   */
  static OptionalInt applicationId(Path path) {
    try (DataInputStream file = new DataInputStream(Files.newInputStream(path))) {
      byte[] magic = file.readNBytes(MAGIC.length);
      file.skipNBytes(APPLICATION_ID_AT - MAGIC.length);
      return Arrays.equals(magic, MAGIC) ? OptionalInt.of(file.readInt()) : OptionalInt.empty();
    } catch (IOException e) {
      return OptionalInt.empty();
    }
  }

  /** The message to the writer. */
  LogbookException trouble(Fate fate) {
    return new LogbookException(
        "logbook '%s' %s; expected that nobody moves or deletes it while a run writes it. Nothing was written into what is there now. Put it back, with the files beside it, and go on with --resume."
            .formatted(path, fate.words));
  }

  /** Prevents the write-ahead log of an overwritten file from being applied to the new one. */
  void putLogAside() {
    Path log = path.resolveSibling(path.getFileName() + "-wal");
    try {
      Files.move(
          log,
          log.resolveSibling(log.getFileName() + "-of-what-was-here"),
          StandardCopyOption.REPLACE_EXISTING);
      Files.deleteIfExists(path.resolveSibling(path.getFileName() + "-shm"));
    } catch (IOException e) {
      // Nothing more can be done here; the message tells the person that the file was replaced.
    }
  }
}
