// SPDX-License-Identifier: Apache-2.0
package millrace.cli.bench;

import millrace.terminal.Console;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;

/** The commands for a bench without a run. */
@Command(
    name = "bench",
    mixinStandardHelpOptions = true,
    description = "Checks a bench, shows its checks over weeks, talks to its instruments.",
    footer = {
      "",
      "Examples:",
      "  millrace bench check --bench bench.yaml --datasheet fx-3.datasheet.yaml",
      "  millrace bench talk dmm1 --bench bench.yaml",
      "  millrace bench certificate t1.xml --instrument t1 --bench bench.yaml",
      "  millrace bench history --recall again.csv",
      "  millrace bench try dmm1 --bench bench.yaml"
    })
public final class BenchCommand {
  private BenchCommand() {}

  /** The command with its subcommands. */
  public static CommandSpec of(Console console) {
    CommandSpec spec = CommandSpec.forAnnotatedObject(new BenchCommand());
    spec.addSubcommand("check", new CommandLine(new BenchCheckCommand(console)));
    spec.addSubcommand("certificate", new CommandLine(new BenchCertificateCommand(console)));
    spec.addSubcommand("history", new CommandLine(new BenchHistoryCommand(console)));
    spec.addSubcommand("talk", new CommandLine(new BenchTalkCommand(console)));
    spec.addSubcommand("try", new CommandLine(new BenchTryCommand(console)));
    return spec;
  }
}
