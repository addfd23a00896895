// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.ConnectException;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.SocketTimeoutException;
import java.net.UnknownHostException;
import java.time.Duration;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble;
import millrace.fault.InstrumentTrouble.Kind;
import org.jspecify.annotations.Nullable;

/** A TCP socket without Nagle's delay, with keep-alive. */
final class TcpWire implements Wire {
  private final Socket socket;
  private final InputStream in;
  private final OutputStream out;
  private int lastTimeoutMs = -1;

  private TcpWire(Socket socket) throws IOException {
    this.socket = socket;
    this.in = socket.getInputStream();
    this.out = socket.getOutputStream();
  }

  static TcpWire open(LinkAddress.Tcp address, LinkTimeouts timing) {
    Socket socket = new Socket();
    try {
      socket.setTcpNoDelay(true);
      socket.setKeepAlive(true);
      socket.connect(
          new InetSocketAddress(address.host(), address.port()), millis(timing.connect()));
      refuseItself(socket);
      return new TcpWire(socket);
    } catch (IOException e) {
      closeQuietly(socket, e);
      throw new InstrumentException(why(address, timing, e), e);
    }
  }

  /**
   * If nothing listens on a port of this machine, the connecting socket may be given that port
   * itself and connect to itself.
   */
  private static void refuseItself(Socket socket) throws ConnectException {
    if (socket.getLocalPort() == socket.getPort()
        && socket.getLocalAddress().equals(socket.getInetAddress())) {
      throw new ConnectException("nobody listens there");
    }
  }

  private static InstrumentTrouble why(
      LinkAddress.Tcp address, LinkTimeouts timing, IOException e) {
    if (e instanceof UnknownHostException) {
      return trouble(address, "no host has this name")
          .with("a name or address that this machine knows", "Check the bench file.");
    }
    if (e instanceof SocketTimeoutException) {
      return trouble(address, "no connection within " + WireText.span(timing.connect()))
          .with("the instrument to accept one", "Check power, cable and address.");
    }
    if (e instanceof ConnectException) {
      return trouble(address, "the connection was refused")
          .with(
              "the instrument to listen there",
              "Check the port, and that no other program holds the instrument.");
    }
    return trouble(address, "cannot connect (" + e.getMessage() + ")")
        .with("", "Check cable and address.");
  }

  private static InstrumentTrouble trouble(LinkAddress.Tcp address, String found) {
    return InstrumentTrouble.of(Kind.UNREACHABLE, address.toString(), found);
  }

  private static int millis(Duration span) {
    return (int) Math.max(1, Math.min(Integer.MAX_VALUE, (span.toNanos() + 999_999) / 1_000_000));
  }

  @Override
  public void write(byte[] buffer, int count) throws IOException {
    out.write(buffer, 0, count);
  }

  @Override
  public int read(byte[] buffer, Duration atMost) throws IOException {
    int timeout = millis(atMost);
    if (timeout != lastTimeoutMs) {
      socket.setSoTimeout(timeout);
      lastTimeoutMs = timeout;
    }
    try {
      int n = in.read(buffer);
      if (n < 0) {
        throw new EOFException("the instrument closed the connection");
      }
      return n;
    } catch (SocketTimeoutException e) {
      return 0;
    }
  }

  @Override
  public int waiting() throws IOException {
    return in.available();
  }

  @Override
  public boolean remembersWhenReopened() {
    return false;
  }

  @Override
  public void close() {
    closeQuietly(socket, null);
  }

  private static void closeQuietly(Socket socket, @Nullable Exception first) {
    try {
      socket.close();
    } catch (IOException e) {
      if (first != null) {
        first.addSuppressed(e);
      }
    }
  }
}
