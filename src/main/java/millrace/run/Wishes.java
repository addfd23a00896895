package millrace.run;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import millrace.fault.LogbookException;

/**
 * What somebody at another terminal wishes of a run: lines of a small file beside the logbook,
 * which the runner reads between its points. One thread at a time; writer and reader may be two
 * processes.
 */
public final class Wishes {
  private final Path file;
  private int read;

  private Wishes(Path file) {
    this.file = file;
  }

  /**
   * The wishes for a run.
   *
   * @param logbook its logbook
   * @param run its number there
   * @return what is asked from here on; older wishes are over
   */
  public static Wishes of(Path logbook, long run) {
    Path at = logbook.toAbsolutePath();
    Wishes wishes = new Wishes(at.resolveSibling(at.getFileName() + "-wishes-" + run));
    wishes.fresh();
    return wishes;
  }

  /** One wish. */
  public enum Wish {
    /** Take no further point for now. */
    PAUSE("pause"),
    /** Go on after a pause. */
    CONTINUE("continue"),
    /** Leave out what is left at this temperature. */
    SKIP_TEMPERATURE("skip temperature");

    private final String text;

    Wish(String text) {
      this.text = text;
    }

    /**
     * The word for it.
     *
     * @return as in the file and in the logbook
     */
    public String text() {
      return text;
    }

    private static Optional<Wish> byText(String text) {
      return Arrays.stream(values()).filter(w -> w.text.equals(text)).findFirst();
    }
  }

  /**
   * Asks for something; the runner hears it before its next point.
   *
   * @param wish what
   * @throws LogbookException if the file cannot be written
   */
  public void ask(Wish wish) {
    try {
      Files.writeString(
          file,
          wish.text + "\n",
          StandardCharsets.UTF_8,
          StandardOpenOption.CREATE,
          StandardOpenOption.APPEND);
    } catch (IOException e) {
      throw new LogbookException(
          "'%s' cannot be written (%s); expected a folder that may be. Check its permissions."
              .formatted(file, e.getMessage()));
    }
  }

  /** What was asked for since the last look; what cannot be read is asked again. */
  List<Wish> fresh() {
    if (!Files.exists(file)) {
      return List.of();
    }
    try {
      List<String> lines = Files.readAllLines(file);
      List<Wish> fresh = new ArrayList<>();
      lines
          .subList(Math.min(read, lines.size()), lines.size())
          .forEach(line -> Wish.byText(line).ifPresent(fresh::add));
      read = lines.size();
      return fresh;
    } catch (IOException notNow) {
      return List.of();
    }
  }
}
