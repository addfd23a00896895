// SPDX-License-Identifier: Apache-2.0
package millrace.run.control;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.PosixFileAttributeView;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.bench.Bench;
import millrace.bench.role.ReplyTimes;
import millrace.evidence.Incident;
import millrace.evidence.Point;
import millrace.evidence.Reading;
import millrace.time.SystemClock;

/**
 * What the logbook does not keep of a bench, in a small file beside it while a run goes on, for
 * those who watch: how long the instruments take to reply, and what the interlocks saw last. It is
 * written anew at most twice a second and removed at the end. Where it cannot be written, nobody
 * sees it and the run goes on. Single-threaded.
 */
public final class BenchTelemetryFile implements RunObserver, AutoCloseable {
  private static final ObjectMapper JSON = new ObjectMapper();

  /** Real time: a simulated night goes by in seconds. */
  private static final Duration BETWEEN = Duration.ofMillis(500);

  private static final String REPLIES = "replies";
  private static final String LONGEST = "longest_ns";
  private static final String INSTRUMENT = "instrument";
  private static final String LAST = "last_ns";
  private static final String LOOKS = "interlocks";
  private static final String WHAT = "what";
  private static final String VALUE = "value";
  private static final String STATE = "state";

  private final Path file;
  private final Path logbook;
  private final Bench bench;
  private final Map<String, InterlockLook> looks = new LinkedHashMap<>();
  private SystemClock.Deadline next = SystemClock.deadline(Duration.ZERO);

  /**
   * The file of a run.
   *
   * @param logbook its logbook
   * @param run its number there; the first of its night
   * @param bench the open bench
   */
  public BenchTelemetryFile(Path logbook, long run, Bench bench) {
    this.file = at(logbook, run);
    this.logbook = logbook;
    this.bench = bench;
  }

  private static Path at(Path logbook, long run) {
    Path whole = logbook.toAbsolutePath();
    return whole.resolveSibling(whole.getFileName() + "-bench-" + run);
  }

  /**
   * Reads what a run that goes on tells of its bench.
   *
   * @param logbook its logbook
   * @param run its number there; the first of its night
   * @return {@link BenchTelemetry#NONE} if there is no such file
   */
  public static BenchTelemetry read(Path logbook, long run) {
    try {
      JsonNode document = JSON.readTree(Files.readString(at(logbook, run)));
      Map<String, ReplyTimes> replies = new LinkedHashMap<>();
      for (JsonNode each : document.path(REPLIES)) {
        replies.put(each.path(INSTRUMENT).asText(), replyTimes(each));
      }
      Map<String, InterlockLook> looks = new LinkedHashMap<>();
      for (JsonNode each : document.path(LOOKS)) {
        looks.put(each.path(WHAT).asText(), look(each));
      }
      return new BenchTelemetry(replies, looks);
    } catch (IOException notThere) {
      return BenchTelemetry.NONE;
    }
  }

  private static ReplyTimes replyTimes(JsonNode each) {
    return new ReplyTimes(
        each.path(REPLIES).asLong(),
        Duration.ofNanos(each.path(LAST).asLong()),
        Duration.ofNanos(each.path(LONGEST).asLong()));
  }

  private static InterlockLook look(JsonNode each) {
    String what = each.path(WHAT).asText();
    return each.has(VALUE)
        ? InterlockLook.number(what, each.path(VALUE).asDouble())
        : InterlockLook.state(what, each.path(STATE).asText());
  }

  @Override
  public void committed(Point point, List<Reading> readings) {
    write();
  }

  @Override
  public void looked(InterlockLook look) {
    looks.put(look.what(), look);
    write();
  }

  @Override
  public void incident(Incident incident) {
    write();
  }

  private void write() {
    if (!next.passed()) {
      return;
    }
    next = SystemClock.deadline(BETWEEN);
    ObjectNode document = JSON.createObjectNode();
    ArrayNode replies = document.putArray(REPLIES);
    bench
        .instruments()
        .forEach((name, i) -> i.replyTimes().ifPresent(t -> write(replies.addObject(), name, t)));
    ArrayNode seen = document.putArray(LOOKS);
    looks.values().forEach(look -> write(seen.addObject(), look));
    Path draft = file.resolveSibling(file.getFileName() + "-new");
    try {
      Files.writeString(draft, JSON.writeValueAsString(document));
      keepFromThoseWhoMayNotReadTheLogbook(draft);
      Files.move(draft, file, StandardCopyOption.REPLACE_EXISTING);
    } catch (IOException notSeen) {
      // for those who watch; the run itself does not need it
    }
  }

  private void keepFromThoseWhoMayNotReadTheLogbook(Path draft) throws IOException {
    PosixFileAttributeView mine = Files.getFileAttributeView(draft, PosixFileAttributeView.class);
    if (mine != null) {
      mine.setPermissions(Files.getPosixFilePermissions(logbook));
    }
  }

  private static void write(ObjectNode node, String instrument, ReplyTimes times) {
    node.put(INSTRUMENT, instrument)
        .put(REPLIES, times.replies())
        .put(LAST, times.last().toNanos())
        .put(LONGEST, times.longest().toNanos());
  }

  private static void write(ObjectNode node, InterlockLook look) {
    node.put(WHAT, look.what());
    look.value()
        .ifPresentOrElse(value -> node.put(VALUE, value), () -> node.put(STATE, look.words()));
  }

  /** Removes the file. */
  @Override
  public void close() {
    try {
      Files.deleteIfExists(file);
    } catch (IOException stays) {
      // it is read only while the run goes on, so that it misleads nobody
    }
  }
}
