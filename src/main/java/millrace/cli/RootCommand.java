// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import java.util.List;
import java.util.Set;
import java.util.concurrent.Callable;
import millrace.cli.exit.ExitCode;
import millrace.document.Words;
import millrace.evidence.Version;
import millrace.terminal.Console;
import picocli.AutoComplete;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** What stands above the commands: help, version, and the completion script. */
@Command(
    name = "millrace",
    version = "millrace " + Version.CURRENT,
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
      "",
      "Example:",
      "  millrace demo"
    })
final class RootCommand implements Callable<Integer> {
  private final Console console;

  @Spec private CommandSpec spec;

  @Option(
      names = "--completion",
      description =
          "Print a completion script for bash and zsh, for 'source <(millrace --completion)'.")
  private boolean completion;

  @Parameters(arity = "0..*", hidden = true)
  private List<String> words = List.of();

  RootCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    if (completion) {
      console.print(AutoComplete.bash("millrace", spec.commandLine()));
      return ExitCode.DONE.number();
    }
    if (!words.isEmpty()) {
      throw new CommandLine.ParameterException(
          spec.commandLine(), unknown(words.get(0), spec.subcommands().keySet()));
    }
    console.print(spec.commandLine().getUsageMessage());
    return ExitCode.DONE.number();
  }

  /** What to say of a word that names no command. */
  private static String unknown(String word, Set<String> commands) {
    return "there is no command %s; expected %s. %s"
        .formatted(Words.quoted(word), Words.oneOf(commands), Words.didYouMean(word, commands))
        .strip();
  }
}
