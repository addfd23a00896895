// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import millrace.document.FileMessageText;
import millrace.lock.ProcessLock;

/**
 * Keeps two processes from writing one run: a lock on one byte of a file beside the logbook.
 * Thread-safe.
 */
final class RunLock implements AutoCloseable {
  private final Path logbook;
  private final ProcessLock lock;

  private RunLock(Path logbook, ProcessLock lock) {
    this.logbook = logbook;
    this.lock = lock;
  }

  /**
   * Takes the lock of a run.
   *
   * @return the lock; empty if another writer has it
   */
  static Optional<RunLock> take(Path logbook, long run) {
    Path file = logbook.resolveSibling(logbook.getFileName() + "-lock");
    try {
      return ProcessLock.take(file, run).map(lock -> new RunLock(logbook, lock));
    } catch (IOException e) {
      throw SqliteErrorText.of(
          logbook,
          "its lock file '" + file + "' cannot be used: " + FileMessageText.reason(e),
          "Check that you may write in that folder.");
    }
  }

  @Override
  public void close() {
    try {
      lock.close();
    } catch (IOException e) {
      throw SqliteErrorText.of(
          logbook, "its lock cannot be released: " + FileMessageText.reason(e), "");
    }
  }
}
