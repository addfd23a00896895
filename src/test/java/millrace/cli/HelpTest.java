// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.OutputStream;
import java.io.PrintStream;
import java.util.List;
import java.util.stream.Stream;
import millrace.terminal.Consoles;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import picocli.CommandLine;
import picocli.CommandLine.Model.OptionSpec;

/** What a newcomer asks first. */
class HelpTest {
  private static CommandLine all() {
    PrintStream nowhere = new PrintStream(OutputStream.nullOutputStream());
    return CommandTable.all(
        Consoles.of(new ByteArrayInputStream(new byte[0]), nowhere, nowhere, false));
  }

  static Stream<String> commands() {
    return all().getSubcommands().keySet().stream();
  }

  @ParameterizedTest
  @MethodSource("commands")
  void everyCommandSaysWhatItTakesWithAnExample(String command) {
    Spoken spoken = Spoken.by(command, "--help");
    assertEquals(0, spoken.code());
    assertEquals("", spoken.err());
    assertTrue(spoken.out().startsWith("Usage: millrace " + command), spoken.out());
    assertTrue(spoken.out().contains("\n  millrace " + command), spoken.out());
  }

  @Test
  void everyCommandStandsInOneGroup() {
    String help = Spoken.by("--help").out();
    List<String> grouped =
        help.lines()
            .filter(l -> l.matches("  [a-z]+ ( +|[A-Z]).*") && !l.startsWith("  millrace "))
            .map(l -> l.strip().split(" ")[0])
            .sorted()
            .toList();
    assertEquals(commands().sorted().toList(), grouped);
    assertTrue(
        help.contains("\nThe run:\n  demo        Runs a whole night of characterization"), help);
    assertTrue(help.lines().allMatch(l -> l.length() <= 80), help);
  }

  @ParameterizedTest
  @MethodSource("commands")
  void everyLineOfHelpFitsOnATerminal(String command) {
    List<String> wide =
        Spoken.by(command, "--help").out().lines().filter(l -> l.length() > 110).toList();
    assertEquals(List.of(), wide);
  }

  /** What is broken in the middle of a word cannot be copied. */
  @ParameterizedTest
  @MethodSource("commands")
  void noExampleIsBrokenByTheWidthOfTheTerminal(String command) {
    CommandLine line = all().getSubcommands().get(command);
    Stream.concat(Stream.of(line), line.getSubcommands().values().stream())
        .flatMap(l -> Stream.of(l.getCommandSpec().usageMessage().footer()))
        .filter(example -> example.startsWith("  "))
        .forEach(example -> assertTrue(example.length() <= 80, example));
  }

  @ParameterizedTest
  @MethodSource("commands")
  void everyOptionSaysWhatItDoes(String command) {
    for (OptionSpec option :
        notEmpty(all().getSubcommands().get(command).getCommandSpec().options())) {
      String text = String.join(" ", option.description());
      assertTrue(text.endsWith("."), option.longestName() + ": " + text);
      assertFalse(text.matches(".*%[^n].*"), option.longestName() + ": " + text);
    }
  }

  /** Some types have no converter; an option of such a type fails as soon as it is used. */
  @ParameterizedTest
  @MethodSource("commands")
  void everyOptionCanBeGiven(String command) {
    for (OptionSpec option :
        notEmpty(all().getSubcommands().get(command).getCommandSpec().options())) {
      String type = option.typeInfo().getType().getSimpleName();
      assertTrue(
          !type.matches("Optional(Long|Int|Double)"), option.longestName() + " is of type " + type);
    }
  }

  @Test
  void theProgramListsItsCommands() {
    for (String words : List.of("", "--help")) {
      Spoken spoken = words.isEmpty() ? Spoken.by() : Spoken.by(words);
      assertEquals(0, spoken.code());
      commands().forEach(c -> assertTrue(spoken.out().contains("\n  " + c + " "), c));
    }
  }

  @Test
  void aMisspeltCommandIsNotRun() {
    Spoken spoken = Spoken.by("anlyze", "1");
    assertEquals(2, spoken.code());
    assertTrue(spoken.err().contains("Did you mean 'analyze'?"), spoken.err());
  }

  @ParameterizedTest
  @ValueSource(strings = {"help", "help run", "help bench check"})
  void helpIsAWordToo(String typed) {
    String[] words = typed.split(" ");
    String[] others = (typed.substring("help".length()) + " --help").strip().split(" ");
    assertEquals(Spoken.by(others), Spoken.by(words));
    assertEquals(0, Spoken.by(words).code());
  }
}
