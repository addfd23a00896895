// SPDX-License-Identifier: Apache-2.0
package millrace.watch.live;

import java.nio.file.Path;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.logbook.Logbook;
import millrace.logbook.LogbookPlace;
import millrace.logbook.Remark;
import millrace.logbook.RemarkKind;
import millrace.logbook.RunState;
import millrace.night.StoredRunPlan;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityException;
import millrace.quantity.QuantityText;
import millrace.run.control.RunRequestFile;
import millrace.run.control.RunRequestFile.Request;
import millrace.time.SystemClock;

/**
 * Sends requests from a page to a run: lines in the request file that {@code status} also writes,
 * and notes through a connection that is closed at once. Thread-safe.
 */
public final class RunRequests {
  private static final int LONGEST_NOTE = 2000;
  private static final int LONGEST_NAME = 80;
  private static final Map<String, Request> PLAIN =
      Map.of(
          "stop", Request.STOP,
          "pause", Request.PAUSE,
          "continue", Request.CONTINUE,
          "skip", Request.SKIP_TEMPERATURE,
          "add", Request.ADD_TEMPERATURE);

  private final LogbookPlace logbook;
  private final LiveRuns runs;

  /**
   * Creates the requests to the runs of a logbook.
   *
   * @param logbook where they are
   * @param runs keep each request, to show it until the run has received it
   */
  public RunRequests(LogbookPlace logbook, LiveRuns runs) {
    this.logbook = logbook;
    this.runs = runs;
  }

  /**
   * Sends a request.
   *
   * @param id the run, which exists in the logbook
   * @param form the choices of the person, by name
   * @return the request; the logbook records the response of the run
   * @throws BadInputException if it is not a known request, or no process would receive it
   */
  public synchronized String ask(long id, Map<String, String> form) {
    String what = form.getOrDefault("what", "");
    if (what.equals("note")) {
      return note(id, form);
    }
    Request request = PLAIN.get(what);
    if (request == null) {
      throw refused(id, "'" + what + "' is nothing that can be asked", "one of the buttons");
    }
    RunRequestFile.Asked asked =
        new RunRequestFile.Asked(
            request,
            degC(id, request, form),
            new RunRequestFile.Asker("somebody at the watch page", ""));
    runs.of(id).shown();
    RunRequestFile.of(file(id), id).ask(asked);
    runs.of(id).asked(asked.text());
    return "Asked of run %s: %s. Below stands what the run did, as soon as it has."
        .formatted(id, asked.text());
  }

  private Path file(long id) {
    return logbook
        .file()
        .orElseThrow(
            () -> refused(id, "it is read from a store", "a run of the logbook of a bench"));
  }

  private static BadInputException refused(long id, String found, String expected) {
    return new BadInputException(
        new InputFault(FilePlace.of("run " + id), found, expected, "Nothing was asked of it."));
  }

  private OptionalDouble degC(long id, Request request, Map<String, String> form) {
    try (Logbook book = logbook.readOnly()) {
      if (book.reader(id).summary().state() != RunState.UNFINISHED || !book.isBeingWritten(id)) {
        throw refused(id, "no process writes it", "a run that goes on");
      }
      if (request != Request.ADD_TEMPERATURE) {
        return OptionalDouble.empty();
      }
      double degC = QuantityText.parse(form.getOrDefault("temperature", ""), Dimension.TEMPERATURE);
      StoredRunPlan.of(book.reader(id)).refuse(degC, "the temperature");
      return OptionalDouble.of(degC);
    } catch (QuantityException e) {
      throw new BadInputException(e.at(FilePlace.of("the temperature")));
    }
  }

  private String note(long id, Map<String, String> form) {
    String text = form.getOrDefault("text", "").strip();
    String author = form.getOrDefault("author", "").strip();
    if (text.isEmpty() || author.isEmpty()) {
      throw refused(id, "the note or its author is empty", "both");
    }
    if (text.length() > LONGEST_NOTE || author.length() > LONGEST_NAME) {
      throw refused(
          id,
          "the note or the name is too long",
          "at most " + LONGEST_NOTE + " and " + LONGEST_NAME + " characters");
    }
    try (Logbook book = Logbook.open(file(id))) {
      book.add(
          id,
          new Remark(
              RemarkKind.REMARK, OptionalLong.empty(), text, author, new SystemClock().now()));
    }
    return "The note is kept with run " + id + ".";
  }
}
