// SPDX-License-Identifier: Apache-2.0
package millrace.cli.plan;

import millrace.terminal.Console;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;

/** The commands that plan measurements and instruments. */
@Command(
    name = "plan",
    mixinStandardHelpOptions = true,
    description = "Says what to measure so that every limit of a datasheet is decided.",
    footer = {
      "",
      "Example:",
      "  millrace plan night fx-3.datasheet.yaml --bench my.bench.yaml --shortest \\",
      "      -o night.yaml"
    })
public final class PlanCommand {
  private PlanCommand() {}

  /** The command with its subcommands. */
  public static CommandSpec of(Console console) {
    CommandSpec spec = CommandSpec.forAnnotatedObject(new PlanCommand());
    spec.addSubcommand("night", new CommandLine(new PlanNightCommand(console)));
    spec.addSubcommand("meters", new CommandLine(new PlanMetersCommand(console)));
    spec.addSubcommand("cause", new CommandLine(new PlanCauseCommand(console)));
    spec.addSubcommand("boards", new CommandLine(new PlanBoardsCommand(console)));
    return spec;
  }
}
