// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStream;
import java.net.InetAddress;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import millrace.Browser;
import millrace.logbook.Logbook;
import millrace.quantity.NumberText;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * What watching costs: a record of eight bench hours at 20 readings a second on a clock that runs
 * faster, once alone and once with 19 bare readers of events and one browser. Bench, run and server
 * are processes of their own, and their processor time is compared, not the clock, so that a busy
 * machine disturbs both alike. A benchmark: it prints its figures into {@code
 * target/benchmarks/watch-load.csv} and asserts none. {@code -Dmillrace.hours=1} makes the night
 * shorter, {@code -Dmillrace.factor=40} its clock faster.
 */
@Timeout(value = 4, unit = TimeUnit.HOURS)
class WatchLoadBenchmarkIT {
  private static final int PER_SECOND = 20;
  private static final int READERS = 19;
  private static final Pattern HEAP = Pattern.compile("total \\d+K, used (\\d+)K");

  @TempDir private Path folder;
  private final List<String> lines = new ArrayList<>();

  private void told(String what, double value, String unit) {
    lines.add("%s,%s,%s".formatted(what, NumberText.significant(value, 4), unit));
  }

  private Path sequence(double hours) throws IOException {
    return Files.writeString(
        folder.resolve("night.yaml"),
        """
        sequence: a record of a night
        settle: {wait: 100 ms}
        steps:
          - in ranges: [1mA]
            do:
              - over loads: {share of compliance: [50 %%]}
                sweep: as listed
                do:
                  - watch: {for: %s s, every: %s ms}
                    readings: {line cycles: 1}
        """
            .formatted(Math.round(hours * 3600), 1000 / PER_SECOND));
  }

  /** A night with its own bench and logbook. */
  private final class Night implements AutoCloseable {
    private final Path home;
    private final Served bench;
    private final RunProcess run;

    Night(String name, double hours, int factor) throws IOException {
      home = Files.createDirectories(folder.resolve(name));
      bench = Served.slower(home, factor);
      run =
          RunProcess.start(
              home,
              "run",
              sequence(hours).toString(),
              "--unit",
              "FX3-00042",
              "--datasheet",
              "examples/fx-3.datasheet.yaml",
              "--bench",
              bench.file(),
              "--speed",
              Integer.toString(factor),
              "--unattended",
              "--logbook",
              book().toString());
    }

    Path book() {
      return home.resolve("night.db");
    }

    /** Processor time of the run at its end, s; what is beside it goes on meanwhile. */
    double cpuS(Watching beside) throws Exception {
      double last = 0;
      while (run.process().isAlive()) {
        last = Math.max(last, cpu(run.process()));
        beside.look();
        Thread.sleep(200);
      }
      assertTrue(List.of(0, 7).contains(run.ended()), run::said);
      return last;
    }

    long readings() {
      try (Logbook open = Logbook.readOnly(book())) {
        return open.reader(1).readingCount();
      }
    }

    @Override
    public void close() {
      run.process().destroy();
      bench.close();
    }
  }

  /** What is looked at while a night goes on. */
  private interface Watching {
    void look() throws Exception;
  }

  private static double cpu(Process process) {
    return process.info().totalCpuDuration().orElse(Duration.ZERO).toNanos() / 1e9;
  }

  /** A reader of events that draws nothing. */
  private static Thread reader(String address, AtomicLong pieces) {
    URI at = URI.create(address);
    Thread thread =
        new Thread(
            () -> {
              try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), at.getPort())) {
                String ask =
                    "GET /run/1/events HTTP/1.1\r\nHost: localhost:" + at.getPort() + "\r\n\r\n";
                socket.getOutputStream().write(ask.getBytes(StandardCharsets.US_ASCII));
                InputStream in = socket.getInputStream();
                byte[] some = new byte[65_536];
                for (int n = in.read(some); n > 0; n = in.read(some)) {
                  String text = new String(some, 0, n, StandardCharsets.UTF_8);
                  pieces.addAndGet(text.split("event: piece", -1).length - 1);
                }
              } catch (IOException over) {
                // the server has ended
              }
            });
    thread.setDaemon(true);
    thread.start();
    return thread;
  }

  private RunProcess server(Path home, Path book) throws Exception {
    Path own = Files.createDirectories(home.resolve("server"));
    RunProcess server = RunProcess.start(own, "watch", "--port", "0", "--logbook", book.toString());
    server.says(own.resolve("err"), "Serving until");
    return server;
  }

  private static String address(Path home) throws IOException {
    return Files.readAllLines(home.resolve("server").resolve("out")).get(0).replaceAll("/$", "");
  }

  /** KiB of a process's heap after garbage is collected. */
  private static double heapKib(Process process) throws Exception {
    String pid = Long.toString(process.pid());
    jcmd(pid, "GC.run");
    Matcher used = HEAP.matcher(jcmd(pid, "GC.heap_info"));
    double sum = 0;
    while (used.find()) {
      sum += Double.parseDouble(used.group(1));
    }
    return sum;
  }

  private static String jcmd(String... words) throws Exception {
    List<String> command =
        new ArrayList<>(
            List.of(Path.of(System.getProperty("java.home"), "bin", "jcmd").toString()));
    command.addAll(List.of(words));
    Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    process.waitFor();
    return said;
  }

  private static void until(Process run, java.util.concurrent.Callable<Boolean> so)
      throws Exception {
    while (!so.call()) {
      assertTrue(run.isAlive(), "it ended before");
      Thread.sleep(50);
    }
  }

  private static boolean begun(Path book) {
    try (Logbook open = Logbook.readOnly(book)) {
      return open.reader(1).readingCount() > 0;
    } catch (millrace.fault.MillraceException notYet) {
      return false;
    }
  }

  @Tag("campaign")
  @Test
  void aNightAloneAndWatched() throws Exception {
    double hours = Double.parseDouble(System.getProperty("millrace.hours", "8"));
    int factor = Integer.getInteger("millrace.factor", 20);
    told("bench hours", hours, "h");
    told("readings asked per bench second", PER_SECOND, "1/s");
    told("factor of the clock", factor, "");
    double alone;
    try (Night night = new Night("alone", hours, factor)) {
      alone = night.cpuS(() -> {}) / night.readings();
      told("alone: readings", night.readings(), "");
      told("alone: processor time of the run per reading", alone * 1e6, "us");
    }
    try (Night night = new Night("watched", hours, factor)) {
      until(night.run.process(), () -> Files.exists(night.book()) && begun(night.book()));
      double watched = watched(night, READERS, hours * 3600 / factor) / night.readings();
      told("watched: readings", night.readings(), "");
      told("watched: processor time of the run per reading", watched * 1e6, "us");
      told("watched: more processor time of the run", 100 * (watched / alone - 1), "%");
    }
    Path out = Files.createDirectories(Path.of("target", "benchmarks"));
    Files.write(out.resolve("watch-load.csv"), lines);
  }

  /** With readers and a browser beside; processor time of the run, s. */
  private double watched(Night night, int readers, double lastsS) throws Exception {
    RunProcess server = server(night.home, night.book());
    AtomicLong pieces = new AtomicLong();
    try (Browser browser = Browser.start(night.home)) {
      String address = address(night.home);
      browser.open(address + "/run/1");
      for (int i = 0; i < readers; i++) {
        reader(address, pieces);
      }
      long began = System.nanoTime();
      double cpuBefore = cpu(server.process());
      double[] next = {0.2 * lastsS};
      double run =
          night.cpuS(
              () -> {
                double s = (System.nanoTime() - began) / 1e9;
                if (s >= next[0]) {
                  next[0] += 0.2 * lastsS;
                  memory(server, browser, s);
                }
              });
      double s = (System.nanoTime() - began) / 1e9;
      told(
          "server: processor time per second watched",
          1e3 * (cpu(server.process()) - cpuBefore) / s,
          "ms");
      told("server: pieces per reader and second", pieces.get() / s / readers, "1/s");
      memory(server, browser, s);
      assertEquals(List.of(), browser.complaints());
      return run;
    } finally {
      server.process().destroy();
    }
  }

  private void memory(RunProcess server, Browser browser, double s) throws Exception {
    String at = "at " + Math.round(s) + " s: ";
    told(at + "heap of the server", heapKib(server.process()), "KiB");
    browser.memory().forEach((name, value) -> told(at + "browser " + name, value, ""));
  }

  @Tag("campaign")
  @Test
  void aNightOfAHundredThousandReadingsIsOpened() throws Exception {
    Path sequence = folder.resolve("hundred.yaml");
    Files.writeString(
        sequence,
        Files.readString(Path.of("sequences/short-night.yaml"))
            .replace("{count: 5, line cycles: 10}", "{count: 100, line cycles: 1}"));
    Path book = folder.resolve("night.db");
    Spoken said =
        Spoken.by(
            "run",
            sequence.toString(),
            "--unit",
            "FX3-00042",
            "--datasheet",
            "examples/fx-3.datasheet.yaml",
            "--simulated",
            "--unattended",
            "--logbook",
            book.toString());
    assertTrue(said.code() < 2, said.err());
    try (Logbook open = Logbook.readOnly(book)) {
      told("night: readings", open.reader(1).readingCount(), "");
    }
    RunProcess server = server(folder, book);
    try {
      HttpClient client = HttpClient.newHttpClient();
      for (String which : List.of("first", "second", "third")) {
        long began = System.nanoTime();
        HttpResponse<String> page =
            client.send(
                HttpRequest.newBuilder(URI.create(address(folder) + "/run/1")).build(),
                HttpResponse.BodyHandlers.ofString());
        assertEquals(200, page.statusCode());
        told("night: " + which + " opening", (System.nanoTime() - began) / 1e6, "ms");
        Thread.sleep(1500);
      }
    } finally {
      server.process().destroy();
    }
    Path out = Files.createDirectories(Path.of("target", "benchmarks"));
    Files.write(out.resolve("watch-opening.csv"), lines);
  }

  @Test
  void everyReaderOfAShortRecordGetsItsPieces() throws Exception {
    try (Night night = new Night("short", 0.05, PER_SECOND)) {
      until(night.run.process(), () -> Files.exists(night.book()) && begun(night.book()));
      RunProcess server = server(night.home, night.book());
      try {
        List<AtomicLong> readers = new ArrayList<>();
        for (int i = 0; i < 3; i++) {
          AtomicLong pieces = new AtomicLong();
          reader(address(night.home), pieces);
          readers.add(pieces);
        }
        assertTrue(night.cpuS(() -> {}) > 0);
        readers.forEach(pieces -> assertTrue(pieces.get() >= 14, "every piece once at least"));
        assertTrue(night.readings() > 100, "readings came while it was watched");
      } finally {
        server.process().destroy();
      }
    }
  }
}
