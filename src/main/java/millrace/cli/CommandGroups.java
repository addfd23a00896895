// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import java.util.List;
import picocli.CommandLine;
import picocli.CommandLine.Help;
import picocli.CommandLine.Help.Column;
import picocli.CommandLine.Help.Column.Overflow;
import picocli.CommandLine.Model.UsageMessageSpec;

/** The commands in the order of work, each with its first sentence. */
enum CommandGroups {
  BEFORE("Before a run", List.of("guide", "new", "budget", "plan", "preview")),
  RUN("The run", List.of("demo", "run", "status", "watch", "safe")),
  RESULTS(
      "What came of it",
      List.of("analyze", "predict", "report", "label", "unit", "runs", "show", "note")),
  BOARDS("Many boards", List.of("production", "compare")),
  BENCH("The bench", List.of("bench", "simulate")),
  FILES("Files", List.of("import", "export", "publish", "schema"));

  private static final int INDENT = 2;
  private static final int NAME = 14;

  private final String heading;
  private final List<String> commands;

  CommandGroups(String heading, List<String> commands) {
    this.heading = heading;
    this.commands = commands;
  }

  /** Sets the list in the help of a command line. */
  static void into(CommandLine line) {
    line.getHelpSectionMap().put(UsageMessageSpec.SECTION_KEY_COMMAND_LIST_HEADING, h -> "");
    line.getHelpSectionMap().put(UsageMessageSpec.SECTION_KEY_COMMAND_LIST, CommandGroups::list);
  }

  private static String list(Help help) {
    StringBuilder text = new StringBuilder();
    for (CommandGroups group : values()) {
      text.append('\n').append(group.heading).append(":\n").append(group.table(help));
    }
    return text.toString();
  }

  private String table(Help help) {
    int width = help.commandSpec().usageMessage().width();
    Help.TextTable table =
        Help.TextTable.forColumns(
            help.colorScheme(),
            new Column(NAME, INDENT, Overflow.SPAN),
            new Column(width - NAME, 0, Overflow.WRAP));
    for (String command : commands) {
      table.addRowValues(command, firstSentence(help.subcommands().get(command)));
    }
    return table.toString();
  }

  private static String firstSentence(Help command) {
    String all = String.join(" ", command.commandSpec().usageMessage().description());
    int end = all.indexOf(". ");
    return end < 0 ? all : all.substring(0, end + 1);
  }
}
