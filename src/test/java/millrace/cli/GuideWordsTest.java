// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.PrintStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import millrace.bench.BenchForms;
import millrace.cli.draft.SchemaCommand;
import millrace.fault.BadInputException;
import millrace.run.watchdog.Watchdog;
import millrace.sequence.SequenceForms;
import millrace.terminal.Console;
import millrace.terminal.Consoles;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import picocli.CommandLine;
import picocli.CommandLine.MissingParameterException;

/** The words of the guide, its commands within a sentence, and its keys of files are the tool's. */
class GuideWordsTest {
  private static final Path PAGE = Path.of("src/site/guide/guide.md");
  private static final String WIRING = "(?m)^wiring: .*$";

  @TempDir private Path folder;

  private static Stream<String> inline(String pattern) {
    String text;
    try {
      text = Files.readString(PAGE).replaceAll("(?ms)^```.*?^```", "");
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    List<String> found =
        Pattern.compile("`(" + pattern + ")`")
            .matcher(text)
            .results()
            .map(r -> r.group(1).replaceAll("\\s+", " "))
            .distinct()
            .toList();
    assertFalse(found.isEmpty(), pattern);
    return found.stream();
  }

  static Stream<String> commands() {
    return inline("millrace [^`]+");
  }

  static Stream<String> wirings() {
    return inline(
        "(?:voltmeter|leads|guarded|insulation|cable capacitance|shunt|fixture conductance):"
            + " [^`]+");
  }

  static Stream<String> rules() {
    return inline("readings: [^`]+");
  }

  private static Console nowhere() {
    PrintStream silent = new PrintStream(OutputStream.nullOutputStream());
    return Consoles.of(InputStream.nullInputStream(), silent, silent, false);
  }

  /** What comes with Millrace is there; the driver is what the reader writes. */
  @Test
  void everyFileThatIsNamedIsThere() {
    assertEquals(
        List.of("drivers/workshop-thermometer.yaml"),
        inline("(?:drivers|sequences|examples)/[^`]+")
            .filter(f -> !Files.exists(Path.of(f)))
            .toList());
  }

  /** A command within a sentence may lack the file that it is about, and nothing else. */
  @ParameterizedTest
  @MethodSource("commands")
  void aCommandInASentenceIsOne(String typed) {
    String[] words = typed.substring("millrace ".length()).split(" ");
    CommandLine line = CommandTable.all(nowhere());
    try {
      line.parseArgs(words);
    } catch (MissingParameterException e) {
      assertTrue(Set.of("plan meters", "safe").contains(String.join(" ", words)), typed);
    }
    assertTrue(line.getSubcommands().containsKey(words[0]), typed);
  }

  @ParameterizedTest
  @MethodSource("wirings")
  void whatIsToBeWrittenUnderWiringIsRead(String line) throws IOException {
    String bench = Files.readString(Path.of("examples/cupboard.bench.yaml"));
    if (line.startsWith("shunt")) {
      bench =
          bench
              .replace("current meter:", "shunt voltmeter:")
              .replace("range: 2 mA, ", "")
              .replace("burden: 50 ohm", "input resistance: 10 Gohm")
              .replace("unit thermometer: {", "shunt thermometer: {");
    }
    String all = line.startsWith("voltmeter") ? line : line + ", voltmeter: across load";
    Path file = folder.resolve("b.yaml");
    Files.writeString(file, bench.replaceAll(WIRING, "wiring: {" + all + "}"));
    try {
      BenchForms.read(file);
    } catch (BadInputException e) {
      throw new AssertionError(line, e);
    }
  }

  @ParameterizedTest
  @MethodSource("rules")
  void aRuleOfReadingIsRead(String rule) throws IOException {
    Path file = folder.resolve("s.yaml");
    Files.writeString(
        file, "sequence: s\n" + rule + "\nsteps:\n  - in ranges: all\n    do:\n      - zero\n");
    assertFalse(SequenceForms.read(file).sequence().steps().isEmpty());
  }

  /** Every word that is explained stands in a schema, in the help of a command or in a message. */
  @Test
  void everyWordThatIsExplainedIsOneOfTheTool() throws IOException {
    StringBuilder vocabulary = new StringBuilder(Watchdog.MADE_SAFE);
    for (SchemaCommand.Kind kind : SchemaCommand.Kind.values()) {
      vocabulary.append(SchemaCommand.schema(kind));
    }
    CommandLine all = CommandTable.all(nowhere());
    helps(all, vocabulary);
    String spoken =
        vocabulary.toString().replace('_', ' ').replaceAll("\\s+", " ").toLowerCase(Locale.ROOT);
    List<String> foreign = new ArrayList<>();
    List<String> words = words();
    assertTrue(words.size() > 30, words.toString());
    for (String word : words) {
      if (!Pattern.compile("\\b" + word + "s?\\b").matcher(spoken).find()) {
        foreign.add(word);
      }
    }
    assertEquals(List.of(), foreign);
    assertEquals(words.stream().sorted().toList(), words, "in the order of the alphabet");
  }

  private static void helps(CommandLine line, StringBuilder into) {
    into.append(line.getUsageMessage());
    line.getSubcommands().values().forEach(each -> helps(each, into));
  }

  private static List<String> words() throws IOException {
    String text = Files.readString(PAGE);
    return text.substring(text.indexOf("## Our words"), text.indexOf("## Safety"))
        .lines()
        .filter(l -> l.startsWith("| ") && !l.startsWith("| word"))
        .map(l -> l.split("\\|")[1].strip())
        .toList();
  }

  @Test
  void helpNamesTheGuideAndTheGuideIsWritten() {
    assertTrue(Spoken.done("--help").out().contains("millrace guide"));
    Path file = folder.resolve("g.html");
    Spoken said = Spoken.done("guide", "-o", file.toString());
    assertEquals(file + "\n", said.out());
    assertTrue(Files.exists(file));
  }

  @Test
  void aFolderThatIsNotThereIsNamed() {
    Spoken said = Spoken.by("guide", "-o", folder.resolve("no/g.html").toString());
    assertEquals(2, said.code());
    assertTrue(said.err().contains("no"), said.err());
  }
}
