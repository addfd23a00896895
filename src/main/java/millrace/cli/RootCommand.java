// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.Callable;
import millrace.cli.exit.ExitCode;
import millrace.document.FileMessageText;
import millrace.evidence.Version;
import millrace.terminal.Console;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** The part of the command line above the commands: help, version, and the completion script. */
@Command(
    name = "millrace",
    version = RootCommand.VERSION,
    mixinStandardHelpOptions = true,
    description = {
      "Characterizes precision DC current sources: runs the bench, keeps the logbook, computes"
          + " results with their uncertainty.",
      "Millrace is not a safety device: hot chambers and voltages above 60 V DC need hardware"
          + " cut-outs of their own."
    },
    footer = {
      "",
      "What a command takes: millrace COMMAND --help",
      "New at the bench? 'millrace guide' writes a guide with drawings, to be read in a browser.",
      "",
      "Example:",
      "  millrace demo"
    })
final class RootCommand implements Callable<Integer> {
  /** The answer to these words alone. */
  static final String VERSION = "millrace " + Version.CURRENT;

  static final Set<String> ASKED_FOR_VERSION = Set.of("--version", "-V");

  private final Console console;
  private final Set<String> commands;

  @Spec private CommandSpec spec;

  /** The shells with tab completion. */
  enum Shell {
    bash,
    zsh,
    fish
  }

  @Option(
      names = "--completion",
      arity = "0..1",
      fallbackValue = "bash",
      paramLabel = "SHELL",
      description =
          "Print a completion script: for bash, or ${COMPLETION-CANDIDATES} where one is named; see"
              + " its first line.")
  private Optional<Shell> completion = Optional.empty();

  @Parameters(arity = "0..*", hidden = true)
  private List<String> words = List.of();

  /** Makes it; the names of all commands are known also where none of them is loaded. */
  RootCommand(Console console, Set<String> commands) {
    this.console = console;
    this.commands = commands;
  }

  @Override
  public Integer call() {
    if (completion.isPresent()) {
      console.document(script(completion.orElse(Shell.bash)).stripTrailing());
      return ExitCode.DONE.number();
    }
    if (!words.isEmpty()) {
      throw new CommandLine.ParameterException(spec.commandLine(), unknown(words.get(0), commands));
    }
    console.print(spec.commandLine().getUsageMessage());
    return ExitCode.DONE.number();
  }

  private static String script(Shell shell) {
    String name = "completion/" + shell + ".txt";
    try (InputStream in = RootCommand.class.getResourceAsStream(name)) {
      return new String(Objects.requireNonNull(in, name).readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The message for a word that names no command. */
  private static String unknown(String word, Set<String> commands) {
    return "there is no command %s; expected %s. %s"
        .formatted(
            FileMessageText.quoted(word),
            FileMessageText.oneOf(commands),
            FileMessageText.didYouMean(word, commands))
        .strip();
  }
}
