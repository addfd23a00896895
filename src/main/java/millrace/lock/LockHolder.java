// SPDX-License-Identifier: Apache-2.0
package millrace.lock;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;

/**
 * The holder of a lock, as in the note beside it: a line with process and user, then a line per
 * fact.
 *
 * @param who such as {@code process 4711 of anne}
 * @param facts by name, in order: when the process started, what it does, where it can be asked
 */
public record LockHolder(String who, Map<String, String> facts) {
  /** The fact with the task of a holder. */
  public static final String TASK = "task";

  /** The task of a holder that only makes a bench safe. */
  public static final String MAKES_SAFE = "make safe";

  /** The fact with the start time of the process, by the system. */
  private static final String STARTED = "started";

  /**
   * How far two readings of the start of one process may differ: the system counts from its own
   * start, whose wall clock moves when the clock is set.
   */
  private static final Duration SAME_START = Duration.ofSeconds(10);

  /** Copies the map. */
  public LockHolder {
    facts = Collections.unmodifiableMap(new LinkedHashMap<>(facts));
  }

  /**
   * This process.
   *
   * @return its number, user and start
   */
  public static LockHolder self() {
    Map<String, String> facts = new LinkedHashMap<>();
    ProcessHandle.current()
        .info()
        .startInstant()
        .ifPresent(start -> facts.put(STARTED, start.toString()));
    return new LockHolder(thisProcess(), facts);
  }

  /**
   * The same with one more fact.
   *
   * @param name one word
   * @param value one line
   * @return the holder
   */
  public LockHolder with(String name, String value) {
    Map<String, String> more = new LinkedHashMap<>(facts);
    more.put(name, value);
    return new LockHolder(who, more);
  }

  /**
   * A fact.
   *
   * @param name its name
   * @return its value; empty if it is not known
   */
  public Optional<String> fact(String name) {
    return Optional.ofNullable(facts.get(name));
  }

  /**
   * The process of the holder, and not a later one with the same number.
   *
   * @return the living process; empty if it is gone, or cannot be told from another
   */
  public Optional<ProcessHandle> process() {
    return pid()
        .flatMap(ProcessHandle::of)
        .filter(ProcessHandle::isAlive)
        .filter(p -> p.info().startInstant().filter(this::isStart).isPresent());
  }

  private Optional<Long> pid() {
    String[] words = who.split(" ");
    return words.length > 1 && words[1].matches("[0-9]{1,18}")
        ? Optional.of(Long.parseLong(words[1]))
        : Optional.empty();
  }

  private boolean isStart(Instant start) {
    try {
      return fact(STARTED)
          .map(text -> Duration.between(Instant.parse(text), start).abs())
          .filter(apart -> apart.compareTo(SAME_START) < 0)
          .isPresent();
    } catch (DateTimeException e) {
      return false; // not written by Millrace
    }
  }

  /** Writes the note atomically, so that nobody reads half of it. */
  void write(Path note) throws IOException {
    StringBuilder text = new StringBuilder(who).append('\n');
    facts.forEach((name, value) -> text.append(name).append(' ').append(value).append('\n'));
    Path beside = note.resolveSibling(note.getFileName() + ".new");
    Files.writeString(beside, text);
    Files.move(beside, note, StandardCopyOption.REPLACE_EXISTING, StandardCopyOption.ATOMIC_MOVE);
  }

  /**
   * Reads a note.
   *
   * @param note where it is
   * @return who is named; empty where there is no note to read
   */
  public static Optional<LockHolder> read(Path note) {
    try {
      String[] lines = Files.readString(note).split("\n");
      Map<String, String> facts = new LinkedHashMap<>();
      for (int i = 1; i < lines.length; i++) {
        int blank = lines[i].indexOf(' ');
        if (blank > 0) {
          facts.put(lines[i].substring(0, blank), lines[i].substring(blank + 1));
        }
      }
      return Optional.of(new LockHolder(lines[0].strip(), facts)).filter(h -> !h.who.isEmpty());
    } catch (IOException e) {
      return Optional.empty();
    }
  }

  /**
   * What notes say of this process.
   *
   * @return its number and user
   */
  public static String thisProcess() {
    return "process %s of %s"
        .formatted(ProcessHandle.current().pid(), System.getProperty("user.name", "someone"));
  }
}
