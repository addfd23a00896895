// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.BiConsumer;
import millrace.time.SystemClock;

/**
 * The other end of a link: a small instrument on a real socket, or on the far end of a
 * pseudo-terminal pair, that does with each line what the test says.
 */
public final class Peer implements AutoCloseable {
  /** What the other end may do. */
  public interface Mouth {
    /** Sends bytes, one character a byte. */
    void say(String bytes);

    /** Closes the connection. */
    void hangUp();

    /** Lets real time pass. */
    default void pause(int milliseconds) {
      try {
        new SystemClock().sleep(Duration.ofMillis(milliseconds));
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      }
    }
  }

  private final ServerSocket server;
  private final List<Socket> sockets = new CopyOnWriteArrayList<>();
  private final List<String> heard = new CopyOnWriteArrayList<>();
  private final BiConsumer<String, Mouth> manner;
  private Thread accepting;

  private Peer(ServerSocket server, BiConsumer<String, Mouth> manner) {
    this.server = server;
    this.manner = manner;
  }

  /** Listens on a free port of the loopback address. */
  public static Peer listening(BiConsumer<String, Mouth> manner) throws IOException {
    Peer peer = new Peer(new ServerSocket(0, 50, InetAddress.getLoopbackAddress()), manner);
    peer.accepting = peer.start("peer-accept", peer::accept);
    return peer;
  }

  /** Sits at the far end of a pair. */
  public static Peer at(PtyPair pair, BiConsumer<String, Mouth> manner) throws IOException {
    Peer peer = new Peer(null, manner);
    InputStream in = pair.farIn();
    OutputStream out = pair.farOut();
    peer.start("peer-pty", () -> peer.listen(in, out, () -> {}));
    return peer;
  }

  public LinkAddress.Tcp address() {
    return new LinkAddress.Tcp("127.0.0.1", server.getLocalPort());
  }

  public List<String> heard() {
    return heard;
  }

  public int connections() {
    return sockets.size();
  }

  /** Breaks every connection as a reset. */
  public void reset() throws IOException {
    for (Socket socket : sockets) {
      socket.setSoLinger(true, 0);
      socket.close();
    }
  }

  private Thread start(String name, Runnable task) {
    Thread thread = new Thread(task, name);
    thread.setDaemon(true);
    thread.start();
    return thread;
  }

  private void accept() {
    try {
      while (true) {
        Socket socket = server.accept();
        socket.setTcpNoDelay(true);
        sockets.add(socket);
        InputStream in = socket.getInputStream();
        OutputStream out = socket.getOutputStream();
        start("peer-talk", () -> listen(in, out, () -> close(socket)));
      }
    } catch (IOException e) {
      // The server socket was closed: the test is over.
    }
  }

  private static void close(Socket socket) {
    try {
      socket.close();
    } catch (IOException e) {
      throw new IllegalStateException(e);
    }
  }

  private void listen(InputStream in, OutputStream out, Runnable hangUp) {
    Mouth mouth = mouth(out, hangUp);
    StringBuilder line = new StringBuilder();
    byte[] buffer = new byte[1024];
    try {
      for (int n = in.read(buffer); n >= 0; n = in.read(buffer)) {
        for (int i = 0; i < n; i++) {
          if (buffer[i] == '\n' || buffer[i] == '\r') {
            heard.add(line.toString());
            manner.accept(line.toString(), mouth);
            line.setLength(0);
          } else {
            line.append((char) (buffer[i] & 0xff));
          }
        }
      }
    } catch (IOException e) {
      // The other side hung up: nothing more will be heard.
    }
  }

  private static Mouth mouth(OutputStream out, Runnable hangUp) {
    return new Mouth() {
      @Override
      public void say(String bytes) {
        try {
          out.write(bytes.getBytes(StandardCharsets.ISO_8859_1));
          out.flush();
        } catch (IOException e) {
          // The other side is gone: what is said is lost, as on a real line.
        }
      }

      @Override
      public void hangUp() {
        hangUp.run();
      }
    };
  }

  @Override
  public void close() throws IOException {
    if (server != null) {
      server.close();
      awaitNoMoreAccepts();
    }
    for (Socket socket : sockets) {
      socket.close();
    }
  }

  /** The system goes on accepting until the thread that waits for connections has noticed. */
  private void awaitNoMoreAccepts() {
    try {
      accepting.join();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
