// SPDX-License-Identifier: Apache-2.0
package millrace.watch.live;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.attribute.BasicFileAttributes;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import millrace.logbook.LogbookPlace;

/**
 * Size and time of the files of a logbook: equal stamps mean that nothing was written in between.
 * They are asked of the folder and no file is opened, since closing it would drop the locks that
 * this process has on it (SQLite, How To Corrupt An SQLite Database File, 2.2).
 */
final class LogbookStamp {
  /** The coarsest time of a file system that is met (FAT, 2 s), and as much again. */
  private static final Duration COARSE = Duration.ofSeconds(4);

  private static final long STORE_S = 30;

  private final Optional<OneFile> file;
  private final Optional<OneFile> log;
  private final boolean settled;

  private record OneFile(String key, long bytes, Instant changed) {}

  private LogbookStamp(Optional<OneFile> file, Optional<OneFile> log, Instant now) {
    this.file = file;
    this.log = log;
    this.settled = file.isPresent() && isOld(file, now) && isOld(log, now);
  }

  /**
   * The stamp, taken before the logbook is read.
   *
   * @param logbook where it is
   * @param now wall clock
   */
  static LogbookStamp of(LogbookPlace logbook, Instant now) {
    return logbook.file().map(file -> of(file, now)).orElseGet(() -> ofStore(now));
  }

  /** What is added to a run in a store is seen within half a minute. */
  private static LogbookStamp ofStore(Instant now) {
    long span = now.getEpochSecond() / STORE_S;
    return new LogbookStamp(
        Optional.of(new OneFile("store", span, Instant.EPOCH)), Optional.empty(), now);
  }

  private static LogbookStamp of(Path logbook, Instant now) {
    Path log = logbook.resolveSibling(logbook.getFileName() + "-wal");
    return new LogbookStamp(one(logbook), one(log), now);
  }

  private static Optional<OneFile> one(Path path) {
    try {
      BasicFileAttributes found = Files.readAttributes(path, BasicFileAttributes.class);
      return Optional.of(
          new OneFile(
              String.valueOf(found.fileKey()), found.size(), found.lastModifiedTime().toInstant()));
    } catch (NoSuchFileException none) {
      return Optional.empty();
    } catch (IOException unreadable) {
      return Optional.of(new OneFile(unreadable.toString(), -1, Instant.MAX));
    }
  }

  /** A file that changed just now may change again without another time. */
  private static boolean isOld(Optional<OneFile> file, Instant now) {
    return file.filter(f -> f.changed().isAfter(now.minus(COARSE))).isEmpty();
  }

  /** Whether what was read after this stamp is what would be read after the other. */
  boolean isUnchangedAt(LogbookStamp later) {
    return settled && file.equals(later.file) && log.equals(later.log);
  }
}
