// SPDX-License-Identifier: Apache-2.0
package millrace.run.notice;

import java.io.File;
import java.io.IOException;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Duration;
import java.time.temporal.ChronoUnit;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import millrace.document.FileMessageText;
import millrace.document.file.AtomicFile;
import millrace.document.file.TemporaryFiles;
import millrace.evidence.Incident;
import millrace.evidence.Point;
import millrace.evidence.Reading;
import millrace.fault.MillraceException;
import millrace.run.control.OperatorPrompt;
import millrace.run.control.RunObserver;
import millrace.time.TimeSource;

/**
 * Notifies a person who is elsewhere when a run finished, failed or needs a person: by a line per
 * event in a file, by a program of the user's that gets the facts in its environment, or by a web
 * address. A notice that cannot be sent is reported on the console; it never stops a run. One
 * thread at a time.
 */
public final class Notices implements RunObserver {
  /** How long the user's program may take, real time. */
  private static final Duration HOOK_WITHIN = Duration.ofSeconds(30);

  private final Way way;
  private final Optional<WebHook> web;
  private final Consumer<String> say;
  private final TimeSource time;
  private final Duration within;
  private final Map<String, String> facts = new LinkedHashMap<>();
  private Optional<MillraceException> lost = Optional.empty();

  /**
   * How people are notified.
   *
   * @param command what is called; empty for nothing
   * @param file what a line per event is added to; empty for none
   * @param web where the facts are posted to as JSON; empty for nowhere
   */
  public record Way(Optional<String> command, Optional<Path> file, Optional<URI> web) {}

  /**
   * Notices of one run.
   *
   * @param way how people are told
   * @param say hears what could not be told
   * @param time the clock of the run
   * @throws millrace.fault.BadInputException if the file is a logbook
   */
  public Notices(Way way, Consumer<String> say, TimeSource time) {
    this(way, say, time, HOOK_WITHIN);
  }

  Notices(Way way, Consumer<String> say, TimeSource time, Duration within) {
    way.file().ifPresent(f -> AtomicFile.refuseDatabase(f, "--notices"));
    this.web = way.web().map(address -> new WebHook(address, within));
    this.way = way;
    this.say = say;
    this.time = time;
    this.within = within;
  }

  /** What the user's program is called for. */
  public enum Event {
    /** The run ended as planned. */
    FINISHED("finished"),
    /** The run ended early. */
    FAILED("failed"),
    /** Somebody has to answer or to come. */
    NEEDS_A_PERSON("needs a person");

    private final String text;

    Event(String text) {
      this.text = text;
    }
  }

  /**
   * Why the file of notices is not whole.
   *
   * @return empty while it is
   */
  public Optional<MillraceException> lost() {
    return lost;
  }

  /**
   * A fact that the user's program is given from here on.
   *
   * @param name of the variable in its environment
   * @param value its value
   */
  public void fact(String name, String value) {
    facts.put(name, value);
  }

  @Override
  public void began(long run, int points, int done) {
    fact("MILLRACE_RUN", Long.toString(run));
    line("began", "%s points, %s done before".formatted(points, done));
  }

  @Override
  public void committed(Point point, List<Reading> readings) {
    line("point", point.key() + ": " + point.state().text());
  }

  @Override
  public void incident(Incident incident) {
    line(incident.kind().text(), incident.text());
  }

  /**
   * Wraps an operator so that each question is also sent as a notice.
   *
   * @param operator who answers
   * @return the same, told of
   */
  public OperatorPrompt telling(OperatorPrompt operator) {
    return new OperatorPrompt() {
      @Override
      public String ask(String question) {
        tell(Event.NEEDS_A_PERSON, "a question waits for an answer: " + question);
        return operator.ask(question);
      }

      @Override
      public void whileWaiting(Runnable act) {
        operator.whileWaiting(act);
      }
    };
  }

  /**
   * Tells one of the events that a program can be called for.
   *
   * @param event which
   * @param text what happened, for a person
   */
  public void tell(Event event, String text) {
    line(event.text, text);
    way.command().ifPresent(command -> call(command, event, text));
    web.ifPresent(hook -> post(hook, event, text));
  }

  /** The facts of the environment, under the same names in small letters. */
  private void post(WebHook hook, Event event, String text) {
    Map<String, String> body = new LinkedHashMap<>();
    body.put("event", event.text);
    body.put("text", text);
    facts.forEach(
        (name, value) -> body.put(name.replace("MILLRACE_", "").toLowerCase(Locale.ROOT), value));
    hook.tell(body)
        .ifPresent(
            how ->
                say.accept(
                    "millrace: --notify-url '%s' %s; the run is not touched by that."
                        .formatted(way.web().orElseThrow(), how)));
  }

  private void line(String event, String text) {
    Optional<Path> file = way.file();
    if (file.isEmpty() || lost.isPresent()) {
      return;
    }
    String line =
        "%s run %s %s: %s%n"
            .formatted(
                time.now().truncatedTo(ChronoUnit.MILLIS),
                facts.getOrDefault("MILLRACE_RUN", "-"),
                event,
                text.lines().reduce((a, b) -> a + " " + b).orElse(""));
    try {
      if (!Files.exists(file.get())) {
        TemporaryFiles.create(file.get());
      }
      Files.writeString(file.get(), line, StandardCharsets.UTF_8, StandardOpenOption.APPEND);
    } catch (IOException e) {
      lost = Optional.of(AtomicFile.unwritten(file.get(), "--notices", e));
      say.accept(
          "millrace: --notices %s cannot be written (%s); the run goes on."
              .formatted(file.get(), FileMessageText.reason(e)));
    }
  }

  private void call(String command, Event event, String text) {
    ProcessBuilder builder = new ProcessBuilder(shell(command)).inheritIO();
    builder.redirectInput(ProcessBuilder.Redirect.from(nothing()));
    builder.environment().putAll(facts);
    builder.environment().put("MILLRACE_EVENT", event.text);
    builder.environment().put("MILLRACE_TEXT", text);
    try {
      Process process = builder.start();
      if (!process.waitFor(within.toMillis(), TimeUnit.MILLISECONDS)) {
        process.descendants().forEach(ProcessHandle::destroyForcibly);
        process.destroyForcibly();
        failed(command, "did not end within " + within.toSeconds() + " s and was stopped");
      } else if (process.exitValue() != 0) {
        failed(command, "ended with exit code " + process.exitValue());
      }
    } catch (IOException e) {
      failed(command, "could not be started: " + e.getMessage());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private static List<String> shell(String command) {
    return windows() ? List.of("cmd", "/c", command) : List.of("sh", "-c", command);
  }

  private static File nothing() {
    return new File(windows() ? "NUL" : "/dev/null");
  }

  private static boolean windows() {
    return File.separatorChar == '\\';
  }

  private void failed(String command, String how) {
    say.accept(
        "millrace: --notify '%s' %s; the run is not touched by that.".formatted(command, how));
  }
}
