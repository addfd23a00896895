// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import java.io.IOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import millrace.document.file.AtomicFile;
import millrace.document.file.TemporaryFiles;
import millrace.fault.MillraceException;

/**
 * A file that grows beside a run. If a write fails, the run goes on: the rest is left out, and
 * {@link #lost} gives the reason. Thread-safe.
 */
public final class RunSideFile extends Writer {
  private final Path path;
  private final String option;
  private final Writer out;
  private Optional<MillraceException> lost = Optional.empty();

  private RunSideFile(Path path, String option, Writer out) {
    this.path = path;
    this.option = option;
    this.out = out;
  }

  /**
   * Starts a new file.
   *
   * @param path its path; never a database
   * @param option the option that gave it
   * @throws IOException if it cannot be created
   */
  public static RunSideFile begin(Path path, String option) throws IOException {
    AtomicFile.refuseDatabase(path, option);
    if (!Files.exists(path)) {
      TemporaryFiles.create(path);
    }
    return new RunSideFile(path, option, Files.newBufferedWriter(path, StandardCharsets.UTF_8));
  }

  /** The reason why the file is incomplete; empty while it is complete. */
  public synchronized Optional<MillraceException> lost() {
    return lost;
  }

  /** Writes a piece. */
  private interface Act {
    void run() throws IOException;
  }

  private synchronized void whilePossible(Act act) {
    if (lost.isPresent()) {
      return;
    }
    try {
      act.run();
    } catch (IOException e) {
      lost = Optional.of(AtomicFile.unwritten(path, option, e));
    }
  }

  @Override
  public void write(char[] from, int at, int count) {
    whilePossible(() -> out.write(from, at, count));
  }

  @Override
  public void flush() {
    whilePossible(out::flush);
  }

  /** A failed write has been reported by then; the file is closed in every case. */
  @Override
  public void close() {
    try {
      out.close();
    } catch (IOException e) {
      whilePossible(
          () -> {
            throw e;
          });
    }
  }
}
