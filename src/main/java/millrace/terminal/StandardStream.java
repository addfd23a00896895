// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import millrace.document.FileMessageText;

/**
 * A standard stream of the process that stores the reason of its first failed write. Later output
 * is dropped, so that the written output has no gap. Thread-safe.
 */
final class StandardStream extends PrintStream {
  private final Sink sink;
  private final int descriptor;

  /**
   * A stream in UTF-8.
   *
   * @param raw takes the bytes
   * @param descriptor its number in this process, 1 or 2
   */
  StandardStream(OutputStream raw, int descriptor) {
    this(new Sink(raw), descriptor);
  }

  private StandardStream(Sink sink, int descriptor) {
    super(sink, true, StandardCharsets.UTF_8);
    this.sink = sink;
    this.descriptor = descriptor;
  }

  /** The reason of the failure; empty without one, or if the reader left. */
  Optional<String> lost() {
    return sink.failure().filter(e -> !readerLeft(e)).map(FileMessageText::reason);
  }

  /** A write to a pipe fails only if its reader has ended. */
  private boolean readerLeft(IOException e) {
    return String.valueOf(e.getMessage()).contains("roken pipe") || isPipe();
  }

  private boolean isPipe() {
    try {
      String to = Files.readSymbolicLink(Path.of("/proc/self/fd/" + descriptor)).toString();
      return to.startsWith("pipe:") || to.startsWith("socket:");
    } catch (IOException | UnsupportedOperationException e) {
      return false; // not Linux: only the text of the exception is available
    }
  }

  private static final class Sink extends OutputStream {
    private final OutputStream raw;
    private Optional<IOException> failure = Optional.empty();

    Sink(OutputStream raw) {
      this.raw = raw;
    }

    synchronized Optional<IOException> failure() {
      return failure;
    }

    @Override
    public void write(int b) throws IOException {
      write(new byte[] {(byte) b}, 0, 1);
    }

    @Override
    public synchronized void write(byte[] from, int at, int count) throws IOException {
      if (failure.isPresent()) {
        throw failure.get();
      }
      try {
        raw.write(from, at, count);
      } catch (IOException e) {
        failure = Optional.of(e);
        throw e;
      }
    }

    @Override
    public void flush() throws IOException {
      raw.flush();
    }
  }
}
