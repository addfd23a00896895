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
 * A file that grows beside a run. Where it takes no more the run goes on: what comes then is left
 * out, and {@link #lost} tells. Thread-safe.
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
   * Begins a file anew.
   *
   * @param path where; never a database
   * @param option the option that named it
   * @throws IOException if it cannot be made
   */
  public static RunSideFile begin(Path path, String option) throws IOException {
    AtomicFile.refuseDatabase(path, option);
    if (!Files.exists(path)) {
      TemporaryFiles.create(path);
    }
    return new RunSideFile(path, option, Files.newBufferedWriter(path, StandardCharsets.UTF_8));
  }

  /** Why the file is not whole; empty while it is. */
  public synchronized Optional<MillraceException> lost() {
    return lost;
  }

  /** Writes something. */
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

  /** What could not be written is told by then; the file is let go of all the same. */
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
