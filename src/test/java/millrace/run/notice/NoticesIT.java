// SPDX-License-Identifier: Apache-2.0
package millrace.run.notice;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.net.InetSocketAddress;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import millrace.Needs;
import millrace.run.notice.Notices.Event;
import millrace.time.SystemClock;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A script of the user's that hangs or fails never holds up a run. */
@Timeout(120)
class NoticesIT {
  @TempDir private Path folder;

  @BeforeEach
  void needsAShell() {
    Needs.program("sh");
  }

  private Path told() {
    return folder.resolve("told");
  }

  private String complaint(String last) throws IOException {
    Path script = folder.resolve("notify.sh");
    Files.writeString(
        script,
        """
        echo "$MILLRACE_EVENT|$MILLRACE_TEXT" >> '%s'
        %s
        """
            .formatted(told(), last));
    List<String> said = new ArrayList<>();
    Notices.Way way =
        new Notices.Way(Optional.of("sh '" + script + "'"), Optional.empty(), Optional.empty());
    new Notices(way, said::add, new SystemClock(), Duration.ofMillis(700))
        .tell(Event.FAILED, "the chamber is stuck");
    return String.join("\n", said);
  }

  @Test
  void aScriptThatHangsIsStoppedWithWhatItStarted() throws Exception {
    String said = complaint("sleep 600");
    assertTrue(said.contains("did not end within 0 s and was stopped"), said);
    assertEquals(List.of("failed|the chamber is stuck"), Files.readAllLines(told()));
    for (ProcessHandle each :
        ProcessHandle.current().descendants().filter(NoticesIT::sleeps).toList()) {
      each.onExit().get(60, TimeUnit.SECONDS); // it was killed, and would sleep for ten minutes
    }
  }

  private static boolean sleeps(ProcessHandle process) {
    return process.isAlive()
        && process.info().commandLine().filter(c -> c.endsWith("sleep 600")).isPresent();
  }

  @Test
  void aScriptThatFailsIsSaidAndNothingElse() throws IOException {
    String said = complaint("exit 9");
    assertTrue(said.contains("ended with exit code 9; the run is not touched by that"), said);
  }

  /** A server that refuses so often before it takes what it is told. */
  private String posted(int refusals, List<String> bodies) throws IOException {
    HttpServer server = HttpServer.create(new InetSocketAddress("localhost", 0), 0);
    AtomicInteger asked = new AtomicInteger();
    server.createContext(
        "/told",
        exchange -> {
          bodies.add(
              exchange.getRequestMethod()
                  + new String(exchange.getRequestBody().readAllBytes(), StandardCharsets.UTF_8));
          exchange.sendResponseHeaders(asked.incrementAndGet() > refusals ? 204 : 503, -1);
          exchange.close();
        });
    server.start();
    try {
      List<String> said = new ArrayList<>();
      URI to = URI.create("http://localhost:" + server.getAddress().getPort() + "/told");
      Notices.Way way = new Notices.Way(Optional.empty(), Optional.empty(), Optional.of(to));
      Notices notices = new Notices(way, said::add, new SystemClock());
      notices.fact("MILLRACE_RUN", "12");
      notices.tell(Event.FAILED, "the \"chamber\" is stuck");
      return String.join("\n", said);
    } finally {
      server.stop(0);
    }
  }

  @Test
  void aWebAddressIsToldTheFactsAsJsonAndAskedAgain() throws IOException {
    List<String> bodies = new CopyOnWriteArrayList<>();
    assertEquals("", posted(1, bodies));
    String json =
        "POST{\"event\":\"failed\",\"text\":\"the \\\"chamber\\\" is stuck\",\"run\":\"12\"}";
    assertEquals(List.of(json, json), bodies);
  }

  @Test
  void aWebAddressThatRefusesIsSaidAndNothingElse() throws IOException {
    String said = posted(9, new CopyOnWriteArrayList<>());
    assertTrue(
        said.contains("answered with status 503, at 3 attempts; the run is not touched"), said);
  }
}
