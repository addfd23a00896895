package millrace.report;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.function.Consumer;
import millrace.document.Words;
import millrace.fault.BadInputException;
import millrace.fault.Fault;
import millrace.fault.Place;
import millrace.report.markup.MarkupException;

/**
 * Writes a file so that it is never seen half: into a file of another name beside it, moved over it
 * when it is whole. What stood there before stays until then.
 */
final class WholeFile {
  private static final long PROCESS = ProcessHandle.current().pid();

  private WholeFile() {}

  /**
   * Writes one file.
   *
   * @param target where; its folder must exist
   * @param content what writes the text, UTF-8
   * @throws BadInputException if the folder is missing or does not let itself be written
   */
  static void write(Path target, Consumer<Writer> content) {
    try {
      Path whole = target.toAbsolutePath();
      Path draft = whole.resolveSibling("." + whole.getFileName() + "." + PROCESS + ".part");
      try {
        fill(draft, content);
        move(draft, target);
      } finally {
        Files.deleteIfExists(draft);
      }
    } catch (IOException e) {
      throw refused(target, e);
    } catch (UncheckedIOException e) {
      throw refused(target, e.getCause());
    } catch (MarkupException e) {
      throw refused(target, e.ioCause());
    }
  }

  private static void fill(Path draft, Consumer<Writer> content) throws IOException {
    try (BufferedWriter writer = Files.newBufferedWriter(draft)) {
      content.accept(writer);
    }
  }

  private static void move(Path draft, Path target) throws IOException {
    try {
      Files.move(draft, target, StandardCopyOption.ATOMIC_MOVE);
    } catch (AtomicMoveNotSupportedException e) {
      Files.move(draft, target, StandardCopyOption.REPLACE_EXISTING);
    }
  }

  private static BadInputException refused(Path target, IOException e) {
    return new BadInputException(
        new Fault(
            Place.of(target.toString()),
            "the report cannot be written there (" + Words.reason(e) + ")",
            "a folder that exists, lets you write, and has room",
            "Name another file with -o."));
  }
}
