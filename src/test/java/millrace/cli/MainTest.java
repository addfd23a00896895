// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.PrintStream;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import millrace.terminal.Console;
import millrace.terminal.Consoles;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import picocli.CommandLine;

class MainTest {
  /** An output that fails as a machine does that is out of memory. */
  private static final class Failing extends OutputStream {
    @Override
    public void write(int b) {
      throw new InternalError("planted");
    }
  }

  @Test
  void whatTheMachineFailsAtIsToldInASentenceAndIsNotTakenForAFailedLimit() {
    ByteArrayOutputStream err = new ByteArrayOutputStream();
    Console console =
        Consoles.of(
            InputStream.nullInputStream(),
            new PrintStream(new Failing(), true, UTF_8),
            new PrintStream(err, true, UTF_8),
            false);
    assertEquals(2, Main.run(new String[] {"schema", "sequence"}, console));
    String said = err.toString(UTF_8);
    assertTrue(said.contains("a fault of Millrace itself (InternalError)"), said);
    assertFalse(said.contains("\tat "), said);
  }

  /** Making all command models is most of the time of a start. */
  @ParameterizedTest
  @ValueSource(strings = {"--completion", "--completion=zsh", "anlyze"})
  void noCommandIsLoadedForWhatNeedsNone(String word) {
    assertTrue(
        CommandTable.lineFor(new String[] {word}, silent()).getSubcommands().isEmpty(), word);
  }

  /** Answered before the parser is loaded, in its words. */
  @ParameterizedTest
  @ValueSource(strings = {"--version", "-V"})
  void theVersionIsWhatTheParserSays(String word) {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    PrintStream to = new PrintStream(out, true, UTF_8);
    Console console = Consoles.of(InputStream.nullInputStream(), to, to, false);
    assertEquals(0, Main.run(new String[] {word}, console));
    String[] said = CommandTable.all(silent()).getCommandSpec().version();
    assertEquals(String.join("\n", said), out.toString(UTF_8).strip());
  }

  @Test
  void aCommandBehindAMisspeltOneIsNotRun() {
    ByteArrayOutputStream err = new ByteArrayOutputStream();
    PrintStream to = new PrintStream(err, true, UTF_8);
    Console console = Consoles.of(InputStream.nullInputStream(), to, to, false);
    assertEquals(2, Main.run(new String[] {"anlyze", "schema"}, console));
    assertTrue(err.toString(UTF_8).contains("there is no command 'anlyze'"), err.toString(UTF_8));
  }

  private static Console silent() {
    PrintStream nowhere = new PrintStream(OutputStream.nullOutputStream(), true, UTF_8);
    return Consoles.of(InputStream.nullInputStream(), nowhere, nowhere, false);
  }

  private static List<String[]> withAnEmptyName(CommandLine line, List<String> words) {
    List<String[]> found = new ArrayList<>();
    for (CommandLine.Model.OptionSpec option : line.getCommandSpec().options()) {
      if (option.auxiliaryTypes()[0] == Path.class) {
        found.add(
            Stream.concat(words.stream(), Stream.of(option.longestName() + "="))
                .toArray(String[]::new));
      }
    }
    line.getSubcommands()
        .forEach(
            (name, below) ->
                found.addAll(
                    withAnEmptyName(
                        below, Stream.concat(words.stream(), Stream.of(name)).toList())));
    return found;
  }

  static Stream<Arguments> emptyNames() {
    return withAnEmptyName(CommandTable.all(silent()), List.of()).stream()
        .map(words -> Arguments.of((Object) words));
  }

  /** As a script writes it whose variable is not set. */
  @ParameterizedTest
  @MethodSource("emptyNames")
  void anEmptyFileNameIsRefused(String[] words) {
    Spoken said = Spoken.by(words);
    assertEquals(2, said.code(), said::err);
    assertTrue(said.err().contains("the name is empty"), said::err);
  }
}
