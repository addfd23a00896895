// SPDX-License-Identifier: Apache-2.0
package millrace.document;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import millrace.bench.BenchForms;
import millrace.bench.driver.DriverForms;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.fault.BadInputException;
import millrace.fault.InputFault;
import millrace.sequence.SequenceExpansion;
import millrace.sequence.SequenceForms;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Shipped files with random slips of the pen: each is read, or refused with a place in that file
 * and words for it. Nothing else may come of it, whatever was typed.
 */
class MutatedFilesTest {
  private static final Datasheet FX_3 = DatasheetFile.read(Path.of("examples/fx-3.datasheet.yaml"));

  private static final List<String> NASTY =
      List.of(
          "1e999 A",
          "-0 ohm",
          "NaN",
          "9.9E37",
          "",
          "~",
          "null",
          "[]",
          "{}",
          "[[[[",
          "}}}",
          "- -",
          "&a",
          "*a",
          "!!int",
          "? ",
          ": ",
          "#",
          "|",
          ">",
          "%",
          "@",
          "`",
          "'",
          "\"",
          "\t",
          "\u202e",
          "\u0000",
          "\ud83d\ude00",
          "\ufeff",
          "---",
          "...",
          "<<: {}",
          "2147483648",
          "-1",
          "0x7f",
          "1e-400 s",
          "4,7",
          "100",
          "all",
          "a".repeat(2000),
          "0".repeat(400) + "1 V");

  static List<Path> files() throws IOException {
    List<Path> found = new ArrayList<>();
    for (String folder : List.of("sequences", "drivers", "examples")) {
      try (Stream<Path> all = Files.walk(Path.of(folder), 2)) {
        all.filter(p -> p.toString().endsWith(".yaml")).sorted().forEach(found::add);
      }
    }
    assertTrue(found.size() > 20, "only " + found);
    return found;
  }

  @ParameterizedTest
  @MethodSource("files")
  void aSlipOfThePenIsReadOrRefusedWithItsPlace(Path file) throws IOException {
    mutate(file, 200);
  }

  @Tag("campaign")
  @ParameterizedTest
  @MethodSource("files")
  void manySlipsOfThePenToo(Path file) throws IOException {
    mutate(file, 20_000);
  }

  private static void mutate(Path file, int times) throws IOException {
    String whole = Files.readString(file);
    int refused = 0;
    for (int seed = 0; seed < times; seed++) {
      String text = mutated(whole, new SplittableRandom(seed));
      try {
        refused +=
            Hostile.refused(file.toString(), text.getBytes(UTF_8), b -> read(file, b)) ? 1 : 0;
      } catch (RuntimeException | StackOverflowError e) {
        throw new AssertionError(file + ", seed " + seed + ":\n" + text, e);
      }
    }
    assertTrue(refused > times / 10, "the slips are too tame: " + refused + " of " + times);
  }

  private static void read(Path file, byte[] bytes) {
    String name = file.toString();
    if (name.startsWith("sequences")) {
      var loaded = SequenceForms.read(file, p -> p.equals(file) ? bytes : partOf(file, p));
      SequenceExpansion.expand(loaded.sequence(), FX_3, List.of());
    } else if (name.startsWith("drivers")) {
      DriverForms.DRIVER.readFile(name, bytes);
    } else if (name.endsWith(".bench.yaml")) {
      BenchForms.read(name, bytes);
    } else {
      DatasheetFile.read(name, bytes);
    }
  }

  /** A part that was renamed by a slip is refused in the file that names it. */
  private static byte[] partOf(Path file, Path part) {
    try {
      return Files.readAllBytes(part);
    } catch (IOException e) {
      throw new BadInputException(
          new InputFault(millrace.fault.FilePlace.of(file.toString()), "no such part", "", ""));
    }
  }

  private static String mutated(String whole, SplittableRandom random) {
    StringBuilder text = new StringBuilder(whole);
    for (int n = random.nextInt(3); n >= 0; n--) {
      slip(text, random);
    }
    return text.toString();
  }

  private static void slip(StringBuilder text, SplittableRandom random) {
    int at = random.nextInt(text.length());
    int end = Math.min(text.length(), at + 1 + random.nextInt(20));
    switch (random.nextInt(8)) {
      case 0 -> text.delete(at, end);
      case 1 -> text.insert(at, text.substring(at, end));
      case 2 -> text.insert(at, NASTY.get(random.nextInt(NASTY.size())));
      case 3 -> text.replace(at, end, NASTY.get(random.nextInt(NASTY.size())));
      case 4 -> text.setCharAt(at, (char) (32 + random.nextInt(95)));
      case 5 -> value(text, at, NASTY.get(random.nextInt(NASTY.size())));
      case 6 -> line(text, at, random);
      default -> text.insert(at, random.nextBoolean() ? " " : "\n");
    }
    if (text.isEmpty()) {
      text.append(' ');
    }
  }

  /** Puts something else behind the next colon. */
  private static void value(StringBuilder text, int at, String other) {
    int colon = text.indexOf(": ", at);
    if (colon >= 0) {
      int end = colon + 2;
      while (end < text.length() && ",}\n]".indexOf(text.charAt(end)) < 0) {
        end++;
      }
      text.replace(colon + 2, end, other);
    }
  }

  /** Doubles a line or takes it out. */
  private static void line(StringBuilder text, int at, SplittableRandom random) {
    int from = text.lastIndexOf("\n", at) + 1;
    int to = text.indexOf("\n", at) < 0 ? text.length() : text.indexOf("\n", at) + 1;
    if (random.nextBoolean() && to > from) {
      text.delete(from, to);
    } else {
      text.insert(to, text.substring(Math.min(from, to), to));
    }
  }
}
