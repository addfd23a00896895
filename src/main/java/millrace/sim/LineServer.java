package millrace.sim;

import java.io.BufferedInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;

/** Serves one talker on a loopback port: lines end with CR, LF or CRLF, replies with LF. */
final class LineServer implements AutoCloseable {
  private static final int MOST_BYTES = 65_536;

  private final ServerSocket server;
  private final Talker talker;
  private final Set<Socket> open = ConcurrentHashMap.newKeySet();

  LineServer(int port, String name, Talker talker) {
    this.talker = talker;
    try {
      server = new ServerSocket(port, 16, InetAddress.getLoopbackAddress());
    } catch (IOException e) {
      throw new UncheckedIOException("port " + port + " cannot be served", e);
    }
    start("millrace-sim-" + name, this::accept);
  }

  private static void start(String name, Runnable work) {
    Thread thread = new Thread(work, name);
    thread.setDaemon(true);
    thread.start();
  }

  int port() {
    return server.getLocalPort();
  }

  private void accept() {
    try {
      while (true) {
        Socket socket = server.accept();
        socket.setTcpNoDelay(true);
        open.add(socket);
        start(Thread.currentThread().getName() + "-client", () -> converse(socket));
      }
    } catch (IOException closed) {
      closeClients();
    }
  }

  private void converse(Socket socket) {
    try (socket) {
      InputStream in = new BufferedInputStream(socket.getInputStream());
      OutputStream out = socket.getOutputStream();
      ByteArrayOutputStream line = new ByteArrayOutputStream();
      int b = in.read();
      while (b >= 0) {
        if (b == '\n' || b == '\r') {
          answer(line, out);
        } else if (line.size() < MOST_BYTES) {
          line.write(b);
        }
        b = in.read();
      }
    } catch (IOException gone) {
      open.remove(socket);
    }
    open.remove(socket);
  }

  private void answer(ByteArrayOutputStream line, OutputStream out) throws IOException {
    if (line.size() == 0) {
      return;
    }
    String text = line.toString(StandardCharsets.ISO_8859_1);
    line.reset();
    Optional<String> reply = talker.hear(text);
    if (reply.isPresent()) {
      out.write((reply.get() + "\n").getBytes(StandardCharsets.ISO_8859_1));
      out.flush();
    }
  }

  private void closeClients() {
    for (Socket socket : List.copyOf(open)) {
      try {
        socket.close();
      } catch (IOException gone) {
        open.remove(socket);
      }
    }
  }

  @Override
  public void close() {
    try {
      server.close();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    closeClients();
  }
}
