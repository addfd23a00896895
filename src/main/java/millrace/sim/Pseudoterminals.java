// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.io.File;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import millrace.time.SystemClock;

/**
 * A pseudo-terminal for each instrument of a simulated bench, beside its socket. Each is a process
 * of the program socat that carries bytes between the terminal and the socket; it ends by itself
 * with the bench. When the socket breaks, the terminal vanishes and reappears, like a serial
 * adapter that is unplugged and plugged in again.
 *
 * <p>Thread-safe.
 */
public final class Pseudoterminals implements AutoCloseable {
  private static final String PROGRAM = "socat";
  private static final Duration PATIENCE = Duration.ofSeconds(10);
  private static final double PAUSE_S = 0.2;

  private final Path folder;
  private final Map<String, Integer> ports;
  private final Map<String, Process> processes = new LinkedHashMap<>();
  private boolean closed;

  private Pseudoterminals(Path folder, Map<String, Integer> ports) {
    this.folder = folder;
    this.ports = ports;
  }

  /**
   * Tells whether terminals can be made.
   *
   * @return true if socat is installed
   */
  public static boolean available() {
    String path = System.getenv().getOrDefault("PATH", "");
    return Arrays.stream(path.split(File.pathSeparator))
        .anyMatch(each -> Files.isExecutable(Path.of(each, PROGRAM)));
  }

  /**
   * Makes a terminal for each instrument.
   *
   * @param bench the running bench
   * @param folder the folder for links named like the instruments; it exists
   * @return the terminals
   * @throws UncheckedIOException if socat is missing or makes no terminal
   */
  public static Pseudoterminals open(SimulatedBench bench, Path folder) {
    Pseudoterminals all = new Pseudoterminals(folder, bench.ports());
    try {
      all.ports.keySet().forEach(all::start);
      for (Path path : all.paths().values()) {
        await(path);
      }
      return all;
    } catch (IOException e) {
      all.close();
      throw new UncheckedIOException(e);
    }
  }

  private static void await(Path path) throws IOException {
    SystemClock.Deadline deadline = SystemClock.deadline(PATIENCE);
    while (!Files.exists(path)) {
      if (deadline.passed()) {
        throw new IOException("socat made no terminal at " + path);
      }
      RealTimeWait.rest(0.01);
    }
  }

  private static void awaitEnd(Process process) {
    try {
      if (!process.waitFor(PATIENCE.toSeconds(), TimeUnit.SECONDS)) {
        process.destroyForcibly();
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private synchronized void start(String name) {
    if (closed) {
      return;
    }
    try {
      Process process =
          new ProcessBuilder(
                  PROGRAM,
                  "pty,raw,echo=0,link=" + folder.resolve(name),
                  "tcp:127.0.0.1:" + ports.get(name) + ",nodelay")
              .redirectErrorStream(true)
              .redirectOutput(ProcessBuilder.Redirect.DISCARD)
              .start();
      processes.put(name, process);
      CompletableFuture<Void> again = process.onExit().thenAccept(p -> startAgain(name));
      again.exceptionally(broken -> null);
    } catch (IOException e) {
      throw new UncheckedIOException("the program socat cannot be started", e);
    }
  }

  private void startAgain(String name) {
    RealTimeWait.rest(PAUSE_S);
    start(name);
  }

  /**
   * The paths of the terminals.
   *
   * @return path by instrument name
   */
  public Map<String, Path> paths() {
    Map<String, Path> paths = new LinkedHashMap<>();
    ports.keySet().forEach(name -> paths.put(name, folder.resolve(name)));
    return paths;
  }

  @Override
  public synchronized void close() {
    closed = true;
    processes.values().forEach(Process::destroy);
    processes.values().forEach(Pseudoterminals::awaitEnd);
  }
}
