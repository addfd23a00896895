// SPDX-License-Identifier: Apache-2.0
package millrace.run.watchdog;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Optional;
import java.util.UUID;
import millrace.bench.BenchForms;
import millrace.fault.InstrumentException;

/**
 * The runner's end of the pipe to its watchdog. While it is open the watchdog waits. It breaks when
 * the runner dies, in whatever way; a runner that ends properly sends a last line before it closes
 * the pipe. One thread at a time.
 */
public final class WatchdogPipe implements AutoCloseable {
  static final String BENCH = "bench";
  static final String RUN = "run";
  static final String GOODBYE = "goodbye";

  private final OutputStream pipe;
  private Optional<String> trouble = Optional.empty();

  /**
   * A pipe to a watchdog that was just started.
   *
   * @param pipe to its standard input
   * @param name the name of the bench file, without line breaks
   * @param content of the bench file, one that was read before
   * @throws InstrumentException if the watchdog is gone already
   */
  public WatchdogPipe(OutputStream pipe, String name, byte[] content) {
    this.pipe = new BufferedOutputStream(pipe);
    BenchForms.read(name, content);
    try {
      say("%s %s %s".formatted(BENCH, content.length, name));
      this.pipe.write(content);
      this.pipe.flush();
    } catch (IOException e) {
      throw new InstrumentException(
          "the watchdog cannot be reached (%s); expected a running watchdog. Begin the run again."
              .formatted(e.getMessage()),
          e);
    }
  }

  private void say(String line) throws IOException {
    pipe.write((line + "\n").getBytes(StandardCharsets.UTF_8));
    pipe.flush();
  }

  /**
   * Sends which run is in progress, so that the watchdog can note there what it does.
   *
   * @param number of the run in its logbook
   * @param uuid its UUID, since the logbook file may be replaced by another one
   * @param logbook the file
   */
  public void run(long number, UUID uuid, Path logbook) {
    try {
      say("%s %s %s %s".formatted(RUN, number, uuid, logbook.toAbsolutePath()));
    } catch (IOException e) {
      trouble = Optional.of(String.valueOf(e.getMessage()));
    }
  }

  /**
   * The error if the watchdog cannot be reached.
   *
   * @return empty if it was told everything
   */
  public Optional<String> trouble() {
    return trouble;
  }

  /** Ends the watch: from here on the runner alone makes the bench safe. */
  @Override
  public void close() {
    try (pipe) {
      say(GOODBYE);
    } catch (IOException e) {
      trouble = Optional.of(String.valueOf(e.getMessage()));
    }
  }
}
