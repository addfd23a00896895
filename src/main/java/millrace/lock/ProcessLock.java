// SPDX-License-Identifier: Apache-2.0
package millrace.lock;

import java.io.Closeable;
import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

/**
 * A lock of the operating system on one byte of a file, which goes away with the process, however
 * it ends. All locks of a process on one file share a channel, as closing any channel of a file can
 * drop every lock that the process has on it. Thread-safe.
 */
public final class ProcessLock implements Closeable {
  private static final Map<Path, Shared> SHARED = new HashMap<>();

  /** The one channel that this process has of a file. */
  private static final class Shared {
    private final FileChannel channel;
    private final Map<Long, FileLock> held = new HashMap<>();

    Shared(FileChannel channel) {
      this.channel = channel;
    }
  }

  private final Path file;
  private final long at;
  private final Optional<Path> note;
  private boolean released;

  private ProcessLock(Path file, long at, Optional<Path> note) {
    this.file = file;
    this.at = at;
    this.note = note;
  }

  /**
   * Takes a lock.
   *
   * @param file that is locked, made if it is missing; its folder is there
   * @param at which byte of it, 0 or more; it need not be there
   * @return the lock; empty if another process, or this one, has it
   * @throws IOException if the file cannot be written
   */
  public static Optional<ProcessLock> take(Path file, long at) throws IOException {
    return take(file, at, Optional.empty());
  }

  /**
   * Takes a lock and writes a note that names its holder, until the lock is released.
   *
   * @param file that is locked, made if it is missing; its folder is there
   * @param at which byte of it, 0 or more; it need not be there
   * @param note a file beside it
   * @return the lock; empty if another process, or this one, has it
   * @throws IOException if the file or the note cannot be written
   */
  public static Optional<ProcessLock> take(Path file, long at, Path note) throws IOException {
    Optional<ProcessLock> lock = take(file, at, Optional.of(note));
    boolean noted = false;
    try {
      if (lock.isPresent()) {
        LockHolder.self().write(note);
      }
      noted = true;
      return lock;
    } finally {
      if (!noted) {
        lock.orElseThrow().close();
      }
    }
  }

  /**
   * Takes a lock that users of one machine share; none of them can leave a note for the others.
   *
   * @param file that is locked, made for everyone to write if it is missing; its folder is there
   * @param at which byte of it, 0 or more; it need not be there
   * @return the lock; empty if another process, or this one, has it
   * @throws IOException if the file cannot be written, as another user keeps it to himself
   */
  public static Optional<ProcessLock> takeAmongUsers(Path file, long at) throws IOException {
    try {
      Files.createFile(file);
      Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rw-rw-rw-"));
    } catch (FileAlreadyExistsException | UnsupportedOperationException made) {
      // set by the first user, or not supported by the system
    }
    return take(file, at, Optional.empty());
  }

  private static Optional<ProcessLock> take(Path file, long at, Optional<Path> note)
      throws IOException {
    Path one = known(file);
    synchronized (SHARED) {
      Shared shared = shared(one);
      try {
        FileLock lock = shared.held.containsKey(at) ? null : shared.channel.tryLock(at, 1, false);
        if (lock == null) {
          return Optional.empty();
        }
        shared.held.put(at, lock);
        return Optional.of(new ProcessLock(one, at, note));
      } finally {
        closeUnused(one, shared);
      }
    }
  }

  /** One name for a file, whatever path leads to it. */
  private static Path known(Path file) throws IOException {
    Path absolute = file.toAbsolutePath();
    return absolute.resolveSibling("").toRealPath().resolve(absolute.getFileName());
  }

  private static Shared shared(Path file) throws IOException {
    Shared known = SHARED.get(file);
    if (known == null) {
      known = new Shared(opened(file));
      SHARED.put(file, known);
    }
    return known;
  }

  /** A system may refuse to create another user's file in a shared folder even though it exists. */
  private static FileChannel opened(Path file) throws IOException {
    return Files.exists(file)
        ? FileChannel.open(file, StandardOpenOption.WRITE)
        : FileChannel.open(file, StandardOpenOption.CREATE, StandardOpenOption.WRITE);
  }

  private static void closeUnused(Path file, Shared shared) throws IOException {
    if (shared.held.isEmpty()) {
      SHARED.remove(file);
      shared.channel.close();
    }
  }

  /**
   * Who has a lock, as its note says.
   *
   * @param note where it is
   * @return such as {@code process 4711 of anne}; empty where there is no note to read
   */
  public static Optional<String> holder(Path note) {
    return LockHolder.read(note).map(LockHolder::who);
  }

  /**
   * Adds facts of the holder to the note.
   *
   * @param holder this process, with facts
   * @throws IOException if the note cannot be written
   */
  public void tell(LockHolder holder) throws IOException {
    if (note.isPresent()) {
      holder.write(note.get());
    }
  }

  /** Releases the lock. */
  @Override
  public void close() throws IOException {
    synchronized (SHARED) {
      Shared shared = SHARED.get(file);
      if (released || shared == null) {
        return;
      }
      released = true;
      FileLock lock = shared.held.remove(at);
      try (lock) {
        if (note.isPresent()) {
          Files.deleteIfExists(note.get());
        }
      } finally {
        closeUnused(file, shared);
      }
    }
  }
}
