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
 * The runner's end of the pipe to its watchdog. While it is open the watchdog waits; it breaks when
 * the runner dies, however that happens, and is let go of with a goodbye when the runner has ended.
 * One thread at a time.
 */
public final class WatchdogPipe implements AutoCloseable {
  static final String BENCH = "bench";
  static final String RUN = "run";
  static final String GOODBYE = "goodbye";

  private final OutputStream pipe;
  private Optional<String> trouble = Optional.empty();

  /**
   * A leash on a watchdog that was just started.
   *
   * @param pipe to its standard input
   * @param name what the bench file is called, without line breaks
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
   * Tells which run is under way, so that what the watchdog does is noted there.
   *
   * @param number of the run in its logbook
   * @param uuid its number everywhere, since another logbook may stand there later
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
   * Why the watchdog could not be told something.
   *
   * @return empty if it was told everything
   */
  public Optional<String> trouble() {
    return trouble;
  }

  /** Says goodbye: the bench is in the runner's own hands to the end. */
  @Override
  public void close() {
    try (pipe) {
      say(GOODBYE);
    } catch (IOException e) {
      trouble = Optional.of(String.valueOf(e.getMessage()));
    }
  }
}
