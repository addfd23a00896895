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
 * What somebody at another terminal wishes of a run: lines of a small file beside the logbook,
 * which the runner reads between its points and while it soaks. One thread at a time; writer and
 * reader may be two processes.
 */
public final class RemoteRequests {
  /** Between what is asked, who asks and why. */
  private static final String BETWEEN = "\t";

  private final Path file;
  private int read;

  private RemoteRequests(Path file) {
    this.file = file;
  }

  /**
   * The wishes for a run.
   *
   * @param logbook its logbook
   * @param run its number there
   * @return what is asked from here on; older wishes are over
   */
  public static RemoteRequests of(Path logbook, long run) {
    Path at = logbook.toAbsolutePath();
    RemoteRequests requests =
        new RemoteRequests(at.resolveSibling(at.getFileName() + "-wishes-" + run));
    requests.fresh();
    return requests;
  }

  /**
   * The wishes that a file holds, where a bench's lock leads to it.
   *
   * @param file beside the logbook
   * @return what is asked from here on
   */
  public static RemoteRequests at(Path file) {
    return new RemoteRequests(file);
  }

  /**
   * The file.
   *
   * @return beside the logbook; it is there once something was asked
   */
  public Path file() {
    return file;
  }

  /** One wish. */
  public enum Request {
    /** Take no further point for now. */
    PAUSE("pause"),
    /** Go on after a pause. */
    CONTINUE("continue"),
    /** Leave out what is left at this temperature. */
    SKIP_TEMPERATURE("skip temperature"),
    /** Do at one more temperature what is done at the one under way, after it. */
    ADD_TEMPERATURE("add temperature"),
    /** End the run and put the bench in its safe state, at once. */
    STOP("stop and make safe");

    private final String text;

    Request(String text) {
      this.text = text;
    }
  }

  /**
   * Who wishes it.
   *
   * @param who in words; empty if not known
   * @param because why, in words; empty if nothing was said
   */
  public record Asker(String who, String because) {
    /** Nobody said. */
    public static final Asker UNKNOWN = new Asker("", "");

    /** What is one line of the file stays one line. */
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
   * A wish with what it is about.
   *
   * @param request what
   * @param degC a temperature for the wish that adds one, degC; empty for others
   * @param by who wishes it
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
   * Asks for something; the runner hears it before its next point.
   *
   * @param request what
   * @throws LogbookException if the file cannot be written
   */
  public void ask(Request request) {
    ask(new Asked(request, OptionalDouble.empty(), Asker.UNKNOWN));
  }

  /**
   * Asks for something; the runner hears it before its next point, or while it soaks.
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

  /** What was asked for since the last look; what cannot be read is asked again. */
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
