// SPDX-License-Identifier: Apache-2.0
package millrace.document;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.function.Consumer;
import java.util.stream.Stream;
import millrace.fault.BadInputException;
import millrace.fault.InputFault;

/**
 * Files that nobody meant: whoever reads one understands it, or refuses it with place and words.
 */
public final class Hostile {
  private Hostile() {}

  /**
   * Has a file read.
   *
   * @param file its name
   * @param bytes what it holds
   * @param reader reads it; nothing but a refusal of it may come out
   * @return true if it was refused
   */
  public static boolean refused(String file, byte[] bytes, Consumer<byte[]> reader) {
    try {
      reader.accept(bytes);
      return false;
    } catch (BadInputException e) {
      String text = new String(bytes, StandardCharsets.UTF_8);
      e.faults().forEach(fault -> check(fault, file, text));
      return true;
    }
  }

  private static void check(InputFault fault, String file, String text) {
    assertEquals(file, fault.place().file());
    assertTrue(fault.place().line() <= text.lines().count() + 1, fault.toString());
    assertFalse(fault.found().isBlank());
    assertFalse(fault.toString().contains("\n"), fault.toString());
    assertTrue(
        text.contains("Exception") || !fault.toString().contains("Exception"), fault.toString());
  }

  /**
   * What the shipped files of a kind hold.
   *
   * @param folder where they are
   * @param ending how their names end
   * @return the bytes of each
   */
  public static List<byte[]> shipped(String folder, String ending) {
    try (Stream<Path> all = Files.walk(Path.of(folder), 2)) {
      List<byte[]> found =
          all.filter(p -> p.toString().endsWith(ending)).sorted().map(Hostile::bytes).toList();
      assertFalse(found.isEmpty(), folder);
      return found;
    } catch (IOException e) {
      throw new AssertionError(folder, e);
    }
  }

  private static byte[] bytes(Path file) {
    try {
      return Files.readAllBytes(file);
    } catch (IOException e) {
      throw new AssertionError(file.toString(), e);
    }
  }
}
