package millrace.document;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Arrays;
import java.util.Locale;
import millrace.fault.BadInputException;
import millrace.fault.Fault;
import millrace.fault.Place;

/**
 * Writes a file so that it is never seen half: into a file of another name beside it, moved over it
 * when it is whole. What stood there before stays until then. What nobody can mean to write over
 * stays for good: databases, as logbooks and packs are, and the files that people write by hand.
 * Thread-safe.
 */
public final class WholeFile {
  private static final long PROCESS = ProcessHandle.current().pid();

  /** SQLite, "Database File Format", 1.3: how every database begins. */
  private static final byte[] DATABASE = "SQLite format 3\0".getBytes(StandardCharsets.US_ASCII);

  private WholeFile() {}

  /** What writes the text. */
  @FunctionalInterface
  public interface Content {
    /**
     * Writes all of it.
     *
     * @param out where to
     * @throws IOException if that fails
     */
    void to(Writer out) throws IOException;
  }

  /**
   * Writes one file in UTF-8; a pipe or a device is written to as it stands.
   *
   * @param target where; its folder must exist
   * @param option the option that named it, for the remedy
   * @param content what writes the text
   * @throws BadInputException if the folder is missing or does not let itself be written, or a file
   *     stands there that is not written over
   */
  public static void write(Path target, String option, Content content) {
    refuseDatabase(target, option);
    refuseByHand(target, option);
    try {
      if (Files.exists(target) && !Files.isRegularFile(target)) {
        fill(target, content);
        return;
      }
      Path whole = Files.exists(target) ? target.toRealPath() : target.toAbsolutePath();
      Path draft = whole.resolveSibling("." + whole.getFileName() + "." + PROCESS + ".part");
      try {
        fill(draft, content);
        move(draft, whole);
      } finally {
        Files.deleteIfExists(draft);
      }
    } catch (IOException e) {
      throw refused(target, option, e);
    } catch (UncheckedIOException e) {
      throw refused(target, option, e.getCause());
    }
  }

  /**
   * Refuses to write over a logbook or another database.
   *
   * @param target what would be written over
   * @param option the option that named it, for the remedy
   * @throws BadInputException if a database stands there
   */
  public static void refuseDatabase(Path target, String option) {
    if (Files.isRegularFile(target) && Arrays.equals(head(target), DATABASE)) {
      throw notOver(target, option, "this is a database, as logbooks and packs are");
    }
  }

  private static void refuseByHand(Path target, String option) {
    String name = String.valueOf(target.getFileName()).toLowerCase(Locale.ROOT);
    if (Files.exists(target) && (name.endsWith(".yaml") || name.endsWith(".yml"))) {
      throw notOver(target, option, "there is a YAML file of this name already");
    }
  }

  private static byte[] head(Path target) {
    try (InputStream in = Files.newInputStream(target)) {
      return in.readNBytes(DATABASE.length);
    } catch (IOException e) {
      // What cannot be read is no reason to refuse; writing it will tell.
      return new byte[0];
    }
  }

  private static BadInputException notOver(Path target, String option, String found) {
    return new BadInputException(
        new Fault(
            Place.of(target.toString()),
            found,
            "a name for what is written",
            "Nothing was written over. Name another file with " + option + "."));
  }

  private static void fill(Path draft, Content content) throws IOException {
    try (BufferedWriter writer = Files.newBufferedWriter(draft)) {
      content.to(writer);
    }
  }

  private static void move(Path draft, Path target) throws IOException {
    try {
      Files.move(draft, target, StandardCopyOption.ATOMIC_MOVE);
    } catch (AtomicMoveNotSupportedException e) {
      Files.move(draft, target, StandardCopyOption.REPLACE_EXISTING);
    }
  }

  private static BadInputException refused(Path target, String option, IOException e) {
    return new BadInputException(
        new Fault(
            Place.of(target.toString()),
            "it cannot be written there (" + Words.reason(e) + ")",
            "a folder that exists, lets you write, and has room",
            "Name another file with " + option + "."));
  }
}
