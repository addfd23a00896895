// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.io.BufferedInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import millrace.sim.fault.SimFault;
import millrace.time.BackgroundThreads;

/**
 * Serves one instrument on a loopback port: lines end with CR, LF or CRLF, replies with LF. One
 * thread accepts connections, one more serves each client.
 */
final class LineServer implements AutoCloseable {
  private static final int MOST_BYTES = 65_536;
  private static final int BACKLOG = 16;

  /** The instrument behind the port, with its faults. */
  record Service(
      String name, SimLineResponder talker, FaultInjector faults, SimReceivedLineLog ears) {}

  private final Service service;
  private final int port;
  private final Set<Socket> open = ConcurrentHashMap.newKeySet();
  private volatile ServerSocket server;
  private volatile boolean closed;
  private volatile double pauseS;

  LineServer(int port, Service service) {
    this.service = service;
    try {
      server = bind(port);
    } catch (IOException e) {
      throw new UncheckedIOException("port " + port + " cannot be served: " + e.getMessage(), e);
    }
    this.port = server.getLocalPort();
    start("millrace-sim-" + service.name(), this::serve);
  }

  private static ServerSocket bind(int port) throws IOException {
    return new ServerSocket(port, BACKLOG, InetAddress.getLoopbackAddress());
  }

  private static void start(String name, Runnable work) {
    BackgroundThreads.of(name, work).start();
  }

  int port() {
    return port;
  }

  /** Accepts until closed; between two periods of accepting, connections are refused. */
  private void serve() {
    while (!closed) {
      accept();
      if (!closed) {
        List.copyOf(open).forEach(this::reset);
        RealTimeWait.rest(pauseS);
        reopen();
      }
    }
    closeClients();
  }

  private void accept() {
    try {
      while (true) {
        Socket socket = server.accept();
        socket.setTcpNoDelay(true);
        open.add(socket);
        start(Thread.currentThread().getName() + "-client", () -> converse(socket));
      }
    } catch (IOException e) {
      if (!server.isClosed()) {
        throw new UncheckedIOException("port " + port + " is not served any more", e);
      }
    }
  }

  private void reopen() {
    try {
      server = bind(port);
      if (closed) {
        server.close();
      }
    } catch (IOException takenByAnother) {
      closed = true;
    }
  }

  private void converse(Socket socket) {
    boolean deserted = false;
    try {
      deserted = !listen(socket);
    } catch (IOException gone) {
      deserted = false;
    }
    if (!deserted) {
      close(socket);
    }
  }

  /** Answers lines; false if the connection stays open but is no longer served. */
  private boolean listen(Socket socket) throws IOException {
    InputStream in = new BufferedInputStream(socket.getInputStream());
    ByteArrayOutputStream line = new ByteArrayOutputStream();
    for (int b = in.read(); b >= 0; b = in.read()) {
      boolean end = b == '\n' || b == '\r';
      if (!end && line.size() < MOST_BYTES) {
        line.write(b);
      } else if (end && line.size() > 0) {
        String text = line.toString(StandardCharsets.ISO_8859_1);
        line.reset();
        if (!answer(text, socket)) {
          return false;
        }
      }
    }
    return true;
  }

  private boolean answer(String line, Socket socket) throws IOException {
    service.ears().hear(service.name(), line);
    Optional<String> reply = service.talker().hear(line);
    Optional<SimFault> fault = service.faults().strikes(service.name(), line, reply);
    if (fault.isPresent()) {
      return spoil(fault.get(), reply, socket);
    }
    if (reply.isPresent()) {
      SpoiltReplySender.send(socket, reply.get() + "\n");
    }
    return true;
  }

  private boolean spoil(SimFault fault, Optional<String> reply, Socket socket) throws IOException {
    switch (fault.kind()) {
      case RESET -> reset(socket);
      case REFUSED -> refuse(fault.size());
      case REBOOT -> {
        service.talker().powerOn();
        refuse(fault.size());
      }
      case HALF_OPEN -> {
        return false;
      }
      case ERROR_QUEUE -> {
        service.talker().complain();
        if (reply.isPresent()) {
          SpoiltReplySender.send(socket, reply.get() + "\n");
        }
      }
      default -> SpoiltReplySender.spoil(fault, reply.orElse(""), socket);
    }
    return true;
  }

  private void reset(Socket socket) {
    try {
      socket.setSoLinger(true, 0);
      socket.close();
    } catch (IOException alreadyGone) {
      open.remove(socket);
    }
  }

  /** The accepting thread then resets every connection and waits. */
  private void refuse(double seconds) throws IOException {
    pauseS = seconds;
    server.close();
  }

  private void closeClients() {
    List.copyOf(open).forEach(this::close);
  }

  private void close(Socket socket) {
    open.remove(socket);
    try {
      socket.close();
    } catch (IOException alreadyGone) {
      open.remove(socket);
    }
  }

  @Override
  public void close() {
    closed = true;
    try {
      server.close();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    closeClients();
  }
}
