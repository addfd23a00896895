// SPDX-License-Identifier: Apache-2.0
package millrace.run.control;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.document.FileMessageText;
import millrace.fault.LogbookException;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityException;
import millrace.quantity.QuantityText;

/**
 * Requests to a run from another terminal: lines of a small file beside the logbook, which the
 * runner reads between points and during soaks. One thread at a time; writer and reader may be two
 * processes.
 */
public final class RunRequestFile {
  /** Separates the request, who makes it and why. */
  private static final String BETWEEN = "\t";

  private final Path file;
  private int read;

  private RunRequestFile(Path file) {
    this.file = file;
  }

  /**
   * The requests to a run.
   *
   * @param logbook its logbook
   * @param run its number there
   * @return requests made from now on; older ones are ignored
   */
  public static RunRequestFile of(Path logbook, long run) {
    Path at = logbook.toAbsolutePath();
    RunRequestFile requests =
        new RunRequestFile(at.resolveSibling(at.getFileName() + "-requests-" + run));
    requests.fresh();
    return requests;
  }

  /**
   * The requests in a file that the lock of a bench names.
   *
   * @param file beside the logbook
   * @return what is asked from here on
   */
  public static RunRequestFile at(Path file) {
    return new RunRequestFile(file);
  }

  /**
   * The file.
   *
   * @return beside the logbook; it is there once something was asked
   */
  public Path file() {
    return file;
  }

  /** One request. */
  public enum Request {
    /** Take no further point for now. */
    PAUSE("pause"),
    /** Go on after a pause. */
    CONTINUE("continue"),
    /** Leave out what is left at this temperature. */
    SKIP_TEMPERATURE("skip temperature"),
    /** Repeat after the present temperature, at another one, all that is done at it. */
    ADD_TEMPERATURE("add temperature"),
    /** End the run and put the bench in its safe state, at once. */
    STOP("stop and make safe");

    private final String text;

    Request(String text) {
      this.text = text;
    }
  }

  /**
   * Who makes it.
   *
   * @param who in words; empty if not known
   * @param because why, in words; empty if nothing was said
   */
  public record Asker(String who, String because) {
    /** The person is not known. */
    public static final Asker UNKNOWN = new Asker("", "");

    /** Line feeds are taken out: one request is one line of the file. */
    public Asker {
      who = oneLine(who);
      because = oneLine(because);
    }

    private static String oneLine(String text) {
      return text.replaceAll("\\s+", " ").strip();
    }

    private static Asker read(String[] fields) {
      return fields.length < 3 ? UNKNOWN : new Asker(fields[1], fields[2]);
    }
  }

  /**
   * A request with what it is about.
   *
   * @param request what
   * @param degC the temperature to add, degC; empty for other requests
   * @param by who makes it
   */
  public record Asked(Request request, OptionalDouble degC, Asker by) {
    /**
     * In words.
     *
     * @return as in the logbook
     */
    public String text() {
      return degC.isPresent()
          ? request.text + " " + QuantityText.print(degC.getAsDouble(), Dimension.TEMPERATURE)
          : request.text;
    }

    private String line() {
      return by.equals(Asker.UNKNOWN)
          ? text()
          : String.join(BETWEEN, text(), by.who(), by.because());
    }

    private static Optional<Asked> read(String line) {
      String[] fields = line.split(BETWEEN, -1);
      Asker by = Asker.read(fields);
      return Arrays.stream(Request.values())
          .filter(w -> fields[0].startsWith(w.text))
          .findFirst()
          .flatMap(w -> read(w, fields[0].substring(w.text.length()).strip(), by));
    }

    private static Optional<Asked> read(Request request, String rest, Asker by) {
      boolean adds = request == Request.ADD_TEMPERATURE;
      if (!adds || rest.isEmpty()) {
        return adds
            ? Optional.empty()
            : Optional.of(new Asked(request, OptionalDouble.empty(), by));
      }
      try {
        double degC = QuantityText.parse(rest, Dimension.TEMPERATURE);
        return Optional.of(new Asked(request, OptionalDouble.of(degC), by));
      } catch (QuantityException e) {
        return Optional.empty(); // written by something else than Millrace
      }
    }
  }

  /**
   * Makes a request; the runner reads it before its next point.
   *
   * @param request what
   * @throws LogbookException if the file cannot be written
   */
  public void ask(Request request) {
    ask(new Asked(request, OptionalDouble.empty(), Asker.UNKNOWN));
  }

  /**
   * Makes a request; the runner reads it before its next point or during a soak.
   *
   * @param asked what
   * @throws LogbookException if the file cannot be written
   */
  public void ask(Asked asked) {
    try {
      Files.writeString(
          file,
          asked.line() + "\n",
          StandardCharsets.UTF_8,
          StandardOpenOption.CREATE,
          StandardOpenOption.APPEND);
    } catch (IOException e) {
      throw new LogbookException(
          "'%s' cannot be written (%s); expected a folder that may be. Check its permissions."
              .formatted(file, FileMessageText.reason(e)));
    }
  }

  /** The requests since the last call; a line that cannot be read yet is read again next time. */
  public List<Asked> fresh() {
    if (!Files.exists(file)) {
      return List.of();
    }
    try {
      List<String> lines = Files.readAllLines(file);
      List<Asked> fresh = new ArrayList<>();
      lines
          .subList(Math.min(read, lines.size()), lines.size())
          .forEach(line -> Asked.read(line).ifPresent(fresh::add));
      read = lines.size();
      return fresh;
    } catch (IOException notNow) {
      return List.of();
    }
  }
}
