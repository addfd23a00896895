// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.PrintStream;

/**
 * The streams of a process of which standard output takes so many writes; the next one fails, and
 * the ones after it would be taken again and leave a hole.
 */
public final class SmallOutput {
  /** A descriptor that no process has: what is behind it is no pipe. */
  private static final int NONE = 1_000_000;

  private final ByteArrayOutputStream err = new ByteArrayOutputStream();
  private final int most;
  private int writes;

  public SmallOutput(int most) {
    this.most = most;
  }

  public Console console() {
    return Consoles.of(
        InputStream.nullInputStream(),
        new StandardStream(new Small(), NONE),
        new PrintStream(err, true, UTF_8),
        false);
  }

  public String err() {
    return err.toString(UTF_8);
  }

  /** Whether something was written behind the write that failed. */
  public boolean holed() {
    return writes > most + 1;
  }

  /** Whether a write failed. */
  public boolean lost() {
    return writes > most;
  }

  private final class Small extends OutputStream {
    @Override
    public void write(int b) throws IOException {
      write(new byte[] {(byte) b}, 0, 1);
    }

    @Override
    public void write(byte[] from, int at, int count) throws IOException {
      if (writes++ == most) {
        throw new IOException("No space left on device");
      }
    }
  }
}
