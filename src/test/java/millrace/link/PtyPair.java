// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.concurrent.TimeUnit;
import millrace.Needs;
import millrace.time.SystemClock;

/**
 * Two pseudo-terminals joined by socat: one for the link under test, one for the other end; or one
 * that stands before a socket.
 */
public final class PtyPair implements AutoCloseable {
  private final Path near;
  private final Path far;
  private final String otherEnd;
  private Process socat;

  private PtyPair(Path near, Path far, String otherEnd) {
    this.near = near;
    this.far = far;
    this.otherEnd = otherEnd;
  }

  /** Opens a pair, or skips the test where socat is missing. */
  public static PtyPair open(Path folder) throws Exception {
    Needs.program("socat");
    Path far = folder.resolve("far");
    PtyPair pair = new PtyPair(folder.resolve("near"), far, "pty,raw,echo=0,link=" + far);
    pair.plugIn();
    return pair;
  }

  /** A terminal that stands before an instrument with a socket on this machine. */
  public static PtyPair before(int port, Path folder) throws Exception {
    Needs.program("socat");
    Path near = folder.resolve("near");
    PtyPair pair = new PtyPair(near, near, "tcp:127.0.0.1:" + port + ",nodelay");
    pair.plugIn();
    return pair;
  }

  /** Starts socat, also again after {@link #pullOut}. */
  public void plugIn() throws Exception {
    socat =
        new ProcessBuilder("socat", "pty,raw,echo=0,link=" + near, otherEnd)
            .redirectErrorStream(true)
            .redirectOutput(ProcessBuilder.Redirect.DISCARD)
            .start();
    SystemClock clock = new SystemClock();
    SystemClock.Deadline deadline = SystemClock.deadline(Duration.ofSeconds(10));
    while (!(Files.exists(near) && Files.exists(far))) {
      if (deadline.passed() || !socat.isAlive()) {
        throw new IOException("socat made no terminals");
      }
      clock.sleep(Duration.ofMillis(10));
    }
  }

  /** Ends socat: both terminals vanish, as when a cable is pulled. */
  public void pullOut() throws Exception {
    socat.destroy();
    if (!socat.waitFor(10, TimeUnit.SECONDS)) {
      socat.destroyForcibly().waitFor();
    }
    Files.deleteIfExists(near);
    Files.deleteIfExists(far);
  }

  public Path near() {
    return near;
  }

  public Path far() {
    return far;
  }

  public long process() {
    return socat.pid();
  }

  /** What arrives at the far end. */
  public InputStream farIn() throws IOException {
    return Files.newInputStream(far);
  }

  /** What is sent from the far end. */
  public OutputStream farOut() throws IOException {
    return Files.newOutputStream(far);
  }

  @Override
  public void close() throws Exception {
    pullOut();
  }
}
