// SPDX-License-Identifier: Apache-2.0
package millrace.document.file;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;

/** Makes a folder of files atomically: complete or absent. Stateless. */
public final class AtomicFolder {
  private AtomicFolder() {}

  /** Writes the files. */
  public interface Content {
    /**
     * Writes all of them.
     *
     * @param folder where to; it is empty
     * @throws IOException if that fails
     */
    void to(Path folder) throws IOException;
  }

  /**
   * Makes one folder.
   *
   * @param target its name, which nothing has yet; the folder that it comes into exists
   * @param option the option that named it, for the remedy
   * @param content writes the files
   * @throws BadInputException if there is something of that name, or no folder to put it into
   * @throws millrace.fault.OutputException if the disk does not take it; nothing of it stays
   */
  public static void write(Path target, String option, Content content) {
    Path whole = target.toAbsolutePath().normalize();
    Path parent = whole.getParent();
    if (parent == null || Files.exists(whole, LinkOption.NOFOLLOW_LINKS)) {
      throw refused(
          target, "there is something of this name already", "the name of a new folder", option);
    }
    if (!Files.isDirectory(parent) || !Files.isWritable(parent)) {
      throw refused(
          target,
          "it cannot be made there",
          "a folder that exists, lets you write, and has room",
          option);
    }
    try {
      filled(whole, content);
    } catch (IOException e) {
      throw AtomicFile.unwritten(target, option, e);
    } catch (UncheckedIOException e) {
      throw AtomicFile.unwritten(target, option, e.getCause());
    }
  }

  private static void filled(Path whole, Content content) throws IOException {
    TemporaryFiles.clear(whole);
    Path draft = Files.createDirectory(TemporaryFiles.of(whole));
    try {
      content.to(draft);
      Files.move(draft, whole);
    } finally {
      TemporaryFiles.dropFolder(draft);
    }
  }

  private static BadInputException refused(
      Path target, String found, String expected, String option) {
    return new BadInputException(
        new InputFault(
            FilePlace.of(target.toString()),
            found,
            expected,
            "Name another one with %s.".formatted(option)));
  }
}
