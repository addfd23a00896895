// SPDX-License-Identifier: Apache-2.0
package millrace.watch;

import com.sun.net.httpserver.HttpServer;
import com.sun.net.httpserver.HttpsConfigurator;
import com.sun.net.httpserver.HttpsServer;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.NetworkInterface;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.SynchronousQueue;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import javax.net.ssl.SSLContext;
import millrace.document.FileMessageText;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.logbook.LogbookPlace;
import millrace.time.BackgroundThreads;
import millrace.time.SystemClock;
import millrace.watch.bench.WatchedBench;
import millrace.watch.guard.AccessToken;
import millrace.watch.guard.RequestGuard;
import millrace.watch.live.LiveRuns;
import millrace.watch.live.OwnFaults;
import millrace.watch.live.RunRequests;
import millrace.watch.shift.ShiftState;

/**
 * Serves the pages of a logbook from this machine until it is closed. It reads the logbook without
 * a lock, so runs are not disturbed and may begin, end and be resumed meanwhile. Thread-safe.
 */
public final class WatchServer implements AutoCloseable {
  private static final int MOST_THREADS = 96;
  private static final int BACKLOG = 64;

  private final HttpServer server;
  private final ThreadPoolExecutor threads;
  private final LiveRuns runs;
  private final EventStreams streams;
  private final String address;

  static {
    // A connection that sends nothing is closed after this time, so that its thread is free (JDK's
    // http server, s).
    System.getProperties().putIfAbsent("sun.net.httpserver.maxReqTime", "20");
    System.getProperties().putIfAbsent("sun.net.httpserver.maxReqHeaders", "60");
    System.getProperties().putIfAbsent("sun.net.httpserver.nodelay", "true");
  }

  private WatchServer(Settings settings, HttpServer server, OwnFaults faults) {
    this.server = server;
    this.threads = threads();
    int port = server.getAddress().getPort();
    boolean tls = settings.tls().isPresent();
    RequestGuard guard =
        new RequestGuard(
            new RequestGuard.Door(hosts(settings.listen(), port), tls, settings.token()),
            new SystemClock());
    String pageToken = settings.readOnly() ? "" : guard.pageToken();
    this.runs = new LiveRuns(settings.logbook(), pageToken, faults);
    this.streams = new EventStreams();
    this.address = (tls ? "https://" : "http://") + shown(settings.listen(), port);
    server.createContext(
        "/",
        new WatchHandler(
            new WatchParts(
                guard,
                new WatchPages(settings.logbook()),
                runs,
                new RunRequests(settings.logbook(), runs),
                streams,
                settings.bench(),
                settings.shift(),
                settings.readOnly(),
                faults)));
    server.setExecutor(threads);
    server.start();
    runs.prepare();
  }

  /**
   * The content that is served, and its readers.
   *
   * @param logbook the logbook, which exists
   * @param bench the bench with a page; empty for none
   * @param shift the shift with a page; empty for none
   * @param listen the address of this machine to listen at
   * @param port the port; 0 for a free one
   * @param readOnly true if requests to a run are refused
   * @param token the token that opens the pages; empty for none
   * @param tls key and certificate; empty for plain HTTP
   */
  public record Settings(
      LogbookPlace logbook,
      Optional<WatchedBench> bench,
      Optional<ShiftState> shift,
      InetAddress listen,
      int port,
      boolean readOnly,
      Optional<AccessToken> token,
      Optional<SSLContext> tls) {
    /**
     * The settings for the pages of a logbook, for this machine alone.
     *
     * @param logbook the logbook, which exists
     * @param port the port; 0 for a free one
     * @return the settings
     */
    public static Settings here(Path logbook, int port) {
      return new Settings(
          LogbookPlace.of(logbook),
          Optional.empty(),
          Optional.empty(),
          InetAddress.getLoopbackAddress(),
          port,
          false,
          Optional.empty(),
          Optional.empty());
    }

    /** Refuses access from other machines without token and TLS. */
    public Settings {
      if (!listen.isLoopbackAddress() && (token.isEmpty() || tls.isEmpty())) {
        throw new BadInputException(
            new InputFault(
                FilePlace.of("--listen " + listen.getHostAddress()),
                "other machines would reach it without " + (token.isEmpty() ? "a token" : "TLS"),
                "--token-file and --key-store with it",
                "Give both, or leave --listen out: then only this machine reaches it."));
      }
    }
  }

  /**
   * Starts a server.
   *
   * @param settings the settings
   * @param report says a fault of Millrace itself to a person
   * @return the server; to be closed
   * @throws BadInputException if it cannot listen there
   */
  public static WatchServer start(Settings settings, Consumer<Throwable> report) {
    OwnFaults faults = new OwnFaults(report);
    InetSocketAddress at = new InetSocketAddress(settings.listen(), settings.port());
    try {
      if (settings.tls().isPresent()) {
        HttpsServer server = HttpsServer.create(at, BACKLOG);
        server.setHttpsConfigurator(new HttpsConfigurator(settings.tls().get()));
        return new WatchServer(settings, server, faults);
      }
      return new WatchServer(settings, HttpServer.create(at, BACKLOG), faults);
    } catch (IOException e) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of("--port " + settings.port()),
              "it cannot be listened at (" + FileMessageText.reason(e) + ")",
              "a port that nobody uses, at an address of this machine",
              "Name another port, or 0 for a free one."));
    }
  }

  private static ThreadPoolExecutor threads() {
    return new ThreadPoolExecutor(
        4,
        MOST_THREADS,
        30,
        TimeUnit.SECONDS,
        new SynchronousQueue<>(),
        BackgroundThreads.named("millrace-watch"),
        new ThreadPoolExecutor.AbortPolicy());
  }

  private static String shown(InetAddress listen, int port) {
    String host = listen.isLoopbackAddress() ? "localhost" : literal(listen);
    return (listen.isAnyLocalAddress() ? name().orElse("localhost") : host) + ":" + port;
  }

  private static String literal(InetAddress address) {
    String text = address.getHostAddress();
    int zone = text.indexOf('%');
    String bare = zone < 0 ? text : text.substring(0, zone);
    return bare.indexOf(':') >= 0 ? "[" + bare + "]" : bare;
  }

  private static Optional<String> name() {
    try {
      return Optional.of(InetAddress.getLocalHost().getHostName().toLowerCase(Locale.ROOT));
    } catch (IOException unknown) {
      return Optional.empty();
    }
  }

  /** The names of this machine only: a foreign name that resolves to it is refused. */
  private static Set<String> hosts(InetAddress listen, int port) {
    Set<String> names = new HashSet<>();
    if (listen.isLoopbackAddress() || listen.isAnyLocalAddress()) {
      names.addAll(Set.of("localhost", "127.0.0.1", "[::1]"));
    }
    names.add(literal(listen));
    if (!listen.isLoopbackAddress()) {
      name().ifPresent(names::add);
    }
    if (listen.isAnyLocalAddress()) {
      try {
        NetworkInterface.networkInterfaces()
            .flatMap(NetworkInterface::inetAddresses)
            .forEach(a -> names.add(literal(a)));
      } catch (IOException e) {
        throw new IllegalStateException("the addresses of this machine are not told", e);
      }
    }
    Set<String> hosts = new HashSet<>();
    names.forEach(n -> hosts.add(n.toLowerCase(Locale.ROOT) + ":" + port));
    return hosts;
  }

  /**
   * The address for a browser.
   *
   * @return such as {@code http://localhost:8017}
   */
  public String address() {
    return address;
  }

  @Override
  public void close() {
    streams.end();
    server.stop(1);
    threads.shutdownNow();
    runs.close();
  }
}
