// SPDX-License-Identifier: Apache-2.0
package millrace.document;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.function.BiFunction;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import millrace.bench.BenchForms;
import millrace.bench.driver.DriverForms;
import millrace.datasheet.DatasheetFile;
import millrace.fault.BadInputException;
import millrace.sequence.SequenceForms;
import org.junit.jupiter.api.Test;

/**
 * Each key of each shipped file, its value changed once: the file is then refused, or what main
 * code reads of it differs ({@code KeysAreReadTest} holds that main code reads it).
 */
class EachKeyCountsTest {
  /** A key with a plain value behind it, in a block or between braces. */
  private static final Pattern KEY =
      Pattern.compile(
          "(?:^|[{,]|- )\\s*([a-z][a-zA-Z0-9 _-]*): +([^\\s{\\[|>&#][^,}\\]\\n#]*)",
          Pattern.MULTILINE);

  /** A remark of whoever wrote the file to whoever reads it. */
  private static final String REMARK = "about";

  private static final int FEWEST = 25;

  private static final Pattern DIGIT = Pattern.compile("[1-9]");

  private static String changed(String value) {
    String bare = value.strip();
    if (bare.equals("yes") || bare.equals("no")) {
      return bare.equals("yes") ? "no" : "yes";
    }
    Matcher digit = DIGIT.matcher(bare);
    if (digit.find()) {
      char other = digit.group().equals("9") ? '8' : (char) (digit.group().charAt(0) + 1);
      return bare.substring(0, digit.start()) + other + bare.substring(digit.end());
    }
    return bare.endsWith("'") ? bare.substring(0, bare.length() - 1) + "x'" : bare + "x";
  }

  private int tried;

  private List<String> ignored(Path file, BiFunction<String, byte[], Object> read)
      throws Exception {
    String text = Files.readString(file);
    String before = read.apply(file.toString(), text.getBytes(UTF_8)).toString();
    assertEquals(before, read.apply(file.toString(), text.getBytes(UTF_8)).toString());
    List<String> ignored = new ArrayList<>();
    Matcher key = KEY.matcher(text);
    while (key.find()) {
      String line = text.substring(text.lastIndexOf('\n', key.start(1)) + 1, key.start(1));
      if (line.contains("#") || key.group(1).equals(REMARK)) {
        continue;
      }
      tried++;
      String other =
          text.substring(0, key.start(2)) + changed(key.group(2)) + text.substring(key.end(2));
      try {
        if (read.apply(file.toString(), other.getBytes(UTF_8)).toString().equals(before)) {
          ignored.add(file.getFileName() + ": " + key.group(1) + ": " + key.group(2).strip());
        }
      } catch (BadInputException refused) {
        assertTrue(!refused.faults().isEmpty());
      }
    }
    return ignored;
  }

  private static List<Path> files(String folder, String end) throws Exception {
    try (Stream<Path> all = Files.walk(Path.of(folder))) {
      return all.filter(p -> p.toString().endsWith(end)).sorted().toList();
    }
  }

  private void check(List<Path> files, BiFunction<String, byte[], Object> read) throws Exception {
    assertTrue(!files.isEmpty());
    Set<String> ignored = new LinkedHashSet<>();
    for (Path file : files) {
      ignored.addAll(ignored(file, read));
    }
    assertEquals(Set.of(), ignored);
    assertTrue(tried >= FEWEST, () -> tried + " keys tried");
  }

  @Test
  void ofADatasheet() throws Exception {
    check(files("examples", ".datasheet.yaml"), DatasheetFile::read);
  }

  @Test
  void ofABenchFile() throws Exception {
    check(files("examples", ".bench.yaml"), BenchForms::read);
  }

  @Test
  void ofASequence() throws Exception {
    check(files("sequences", ".yaml"), SequenceForms.SEQUENCE::readFile);
  }

  @Test
  void ofADriverFile() throws Exception {
    check(files("drivers", ".yaml"), DriverForms.DRIVER::readFile);
  }
}
