package millrace.logbook;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

/**
 * Keeps two processes from writing one run: a lock of the operating system on one byte of a file
 * beside the logbook, which goes away with the process, however it ends. On some systems closing
 * any channel of a file drops all its locks, so that a process shares one channel per logbook.
 * Thread-safe.
 */
final class RunLock implements AutoCloseable {
  private static final Map<Path, Shared> SHARED = new HashMap<>();

  private static final class Shared {
    private final FileChannel channel;
    private final Map<Long, FileLock> held = new HashMap<>();

    Shared(FileChannel channel) {
      this.channel = channel;
    }
  }

  private final Path path;
  private final long run;

  private RunLock(Path path, long run) {
    this.path = path;
    this.run = run;
  }

  /**
   * Takes the lock of a run.
   *
   * @return the lock; empty if another writer has it
   */
  static Optional<RunLock> take(Path logbook, long run) {
    Path path = logbook.resolveSibling(logbook.getFileName() + "-lock");
    synchronized (SHARED) {
      try {
        return take(path, shared(path), run);
      } catch (IOException e) {
        throw Troubles.of(
            logbook,
            "its lock file '" + path + "' cannot be used: " + e.getMessage(),
            "Check that you may write in that folder.");
      }
    }
  }

  private static Optional<RunLock> take(Path path, Shared shared, long run) throws IOException {
    FileLock lock = shared.held.containsKey(run) ? null : shared.channel.tryLock(run, 1, false);
    if (lock == null) {
      closeUnused(path, shared);
      return Optional.empty();
    }
    shared.held.put(run, lock);
    return Optional.of(new RunLock(path, run));
  }

  private static Shared shared(Path path) throws IOException {
    Shared known = SHARED.get(path);
    if (known == null) {
      known =
          new Shared(FileChannel.open(path, StandardOpenOption.CREATE, StandardOpenOption.WRITE));
      SHARED.put(path, known);
    }
    return known;
  }

  private static void closeUnused(Path path, Shared shared) throws IOException {
    if (shared.held.isEmpty()) {
      SHARED.remove(path);
      shared.channel.close();
    }
  }

  @Override
  public void close() {
    synchronized (SHARED) {
      Shared shared = SHARED.get(path);
      if (shared == null) {
        return;
      }
      try {
        FileLock lock = shared.held.remove(run);
        if (lock != null) {
          lock.release();
        }
        closeUnused(path, shared);
      } catch (IOException e) {
        throw Troubles.of(path, "its lock cannot be released: " + e.getMessage(), "");
      }
    }
  }
}
