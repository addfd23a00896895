// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.net.SocketTimeoutException;
import java.nio.charset.StandardCharsets;

/** A plain client of a simulated instrument, which takes what comes. */
final class Client implements AutoCloseable {
  private static final int PATIENCE_MS = 5000;

  private final Socket socket;

  Client(SimulatedBench bench, String instrument) throws IOException {
    socket = new Socket(InetAddress.getLoopbackAddress(), bench.ports().get(instrument));
    socket.setTcpNoDelay(true);
    socket.setSoTimeout(PATIENCE_MS);
  }

  void say(String line) throws IOException {
    socket.getOutputStream().write((line + "\n").getBytes(StandardCharsets.ISO_8859_1));
    socket.getOutputStream().flush();
  }

  /** One line up to its LF, which is kept; shorter where the other end closes. */
  String hear() throws IOException {
    StringBuilder heard = new StringBuilder();
    int b = 0;
    while (b != '\n' && b >= 0) {
      b = socket.getInputStream().read();
      if (b >= 0) {
        heard.append((char) b);
      }
    }
    return heard.toString();
  }

  String ask(String line) throws IOException {
    say(line);
    return hear();
  }

  /** What comes until nothing comes for a while. */
  String hearAll() throws IOException {
    StringBuilder heard = new StringBuilder();
    socket.setSoTimeout(150);
    try {
      for (int b = socket.getInputStream().read(); b >= 0; b = socket.getInputStream().read()) {
        heard.append((char) b);
      }
    } catch (SocketTimeoutException nothingMore) {
      heard.append("");
    } finally {
      socket.setSoTimeout(PATIENCE_MS);
    }
    return heard.toString();
  }

  long count() throws IOException {
    byte[] buffer = new byte[1 << 16];
    long sum = 0;
    socket.setSoTimeout(500);
    try {
      for (int n = socket.getInputStream().read(buffer);
          n >= 0;
          n = socket.getInputStream().read(buffer)) {
        sum += n;
      }
    } catch (SocketTimeoutException nothingMore) {
      return sum;
    }
    return sum;
  }

  @Override
  public void close() throws IOException {
    socket.close();
  }
}
