// SPDX-License-Identifier: Apache-2.0
package millrace.document.file;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.Arrays;
import java.util.Locale;
import millrace.document.FileMessageText;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.MillraceException;
import millrace.fault.OutputException;

/**
 * Writes a file atomically: into a temporary file beside it, which replaces it when complete. The
 * earlier file remains until then. Databases (logbooks and packs) and files that people write by
 * hand are never overwritten. Thread-safe.
 */
public final class AtomicFile {
  /** SQLite, "Database File Format", 1.3: how every database begins. */
  private static final byte[] DATABASE = "SQLite format 3\0".getBytes(StandardCharsets.US_ASCII);

  private AtomicFile() {}

  /** Writes the text. */
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
   * Writes one file in UTF-8; a pipe or a device is written to directly.
   *
   * @param target where; its folder must exist
   * @param option the option that named it, for the remedy
   * @param content writes the text
   * @throws BadInputException if the folder is missing or not writable, or the target is a file
   *     that must not be overwritten
   * @throws OutputException if the disk or device refuses it; the earlier file remains
   */
  public static void write(Path target, String option, Content content) {
    refuseByHand(target, option);
    renew(target, option, content);
  }

  /**
   * Writes one file of bytes, such as a PDF.
   *
   * @param target where; its folder must exist
   * @param option the option that named it, for the remedy
   * @param bytes all of it
   * @throws BadInputException as {@link #write} does
   * @throws OutputException if the disk or device refuses it; the earlier file remains
   */
  public static void write(Path target, String option, byte[] bytes) {
    refuseByHand(target, option);
    refuseDatabase(target, option);
    replace(target, option, draft -> Files.write(draft, bytes));
  }

  /**
   * The same for a YAML file that Millrace itself writes anew each time.
   *
   * @param target where; its folder must exist
   * @param option the option that named it, for the remedy
   * @param content writes the text
   */
  public static void renew(Path target, String option, Content content) {
    refuseDatabase(target, option);
    replace(target, option, draft -> fill(draft, content));
  }

  /** Fills a file of any name. */
  private interface Filling {
    void of(Path file) throws IOException;
  }

  private static void replace(Path target, String option, Filling filling) {
    try {
      if (Files.exists(target) && !Files.isRegularFile(target)) {
        filling.of(target);
        return;
      }
      Path whole = Files.exists(target) ? target.toRealPath() : target.toAbsolutePath();
      Path draft = TemporaryFiles.begin(whole);
      try {
        keepPermissions(whole, draft);
        filling.of(draft);
        move(draft, whole);
      } finally {
        TemporaryFiles.drop(draft);
      }
    } catch (IOException e) {
      throw refused(target, option, e);
    } catch (UncheckedIOException e) {
      throw refused(target, option, e.getCause());
    }
  }

  /**
   * Refuses to overwrite a logbook or another database.
   *
   * @param target the file to be overwritten
   * @param option the option that named it, for the remedy
   * @throws BadInputException if the target is a database
   */
  public static void refuseDatabase(Path target, String option) {
    if (Files.isRegularFile(target) && Arrays.equals(head(target), DATABASE)) {
      throw notOver(target, option, "this is a database, as logbooks and packs are");
    }
  }

  /**
   * Refuses what {@link #write} would refuse, before the work is done: a file that must not be
   * overwritten, and a missing folder.
   *
   * @param target the file to be written
   * @param option the option that named it, for the remedy
   * @throws BadInputException if it cannot be
   */
  public static void refuse(Path target, String option) {
    refuseByHand(target, option);
    refuseDatabase(target, option);
    Path folder = target.toAbsolutePath().getParent();
    if (Files.isDirectory(target) || (folder != null && !Files.isDirectory(folder))) {
      throw refused(target, option, new NoSuchFileException(target.toString()));
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
      // An unreadable file is no reason to refuse; the write itself reports it.
      return new byte[0];
    }
  }

  private static BadInputException notOver(Path target, String option, String found) {
    return new BadInputException(
        new InputFault(
            FilePlace.of(target.toString()),
            found,
            "a name for what is written",
            "Nothing was written over. Name another file with " + option + "."));
  }

  /** The new file takes the read permissions of the file that it replaces. */
  private static void keepPermissions(Path whole, Path draft) throws IOException {
    if (Files.exists(whole)
        && whole.getFileSystem().supportedFileAttributeViews().contains("posix")) {
      Files.setPosixFilePermissions(draft, Files.getPosixFilePermissions(whole));
    }
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

  /** A wrong name is bad input; a full disk is not. */
  private static MillraceException refused(Path target, String option, IOException e) {
    boolean named =
        e instanceof NoSuchFileException
            || e instanceof AccessDeniedException
            || e instanceof FileAlreadyExistsException
            || Files.isDirectory(target)
            || !Files.isDirectory(target.toAbsolutePath().getParent());
    if (!named) {
      return unwritten(target, option, e);
    }
    return new BadInputException(
        new InputFault(
            FilePlace.of(target.toString()),
            "it cannot be written there (" + FileMessageText.reason(e) + ")",
            "a folder that exists, lets you write, and has room",
            "Name another file with " + option + "."));
  }

  /**
   * The error for a file that a disk or device refuses.
   *
   * @param target the file
   * @param option the option that named it, for the remedy
   * @param e the exception of the system
   * @return the error
   */
  public static OutputException unwritten(Path target, String option, IOException e) {
    return new OutputException(
        "%s: it cannot be written whole (%s); expected a disk that takes it. What stood there before is untouched. Free some space, or name another file with %s."
            .formatted(target, FileMessageText.reason(e), option),
        e);
  }
}
