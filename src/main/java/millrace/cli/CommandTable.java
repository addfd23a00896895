// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import java.util.Arrays;
import java.util.Collections;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import millrace.cli.bench.BenchCommand;
import millrace.cli.bench.SafeCommand;
import millrace.cli.bench.SimulateCommand;
import millrace.cli.completion.TabCompletion;
import millrace.cli.draft.GuideCommand;
import millrace.cli.draft.NewCommand;
import millrace.cli.draft.SchemaCommand;
import millrace.cli.exit.ExitCode;
import millrace.cli.logbook.ExportCommand;
import millrace.cli.logbook.ImportCommand;
import millrace.cli.logbook.NoteCommand;
import millrace.cli.logbook.PublishCommand;
import millrace.cli.logbook.RunsCommand;
import millrace.cli.logbook.ShowCommand;
import millrace.cli.plan.PlanCommand;
import millrace.cli.result.AnalyzeCommand;
import millrace.cli.result.CompareCommand;
import millrace.cli.result.DesignBudgetCommand;
import millrace.cli.result.LabelCommand;
import millrace.cli.result.PredictCommand;
import millrace.cli.result.ReportCommand;
import millrace.cli.result.UnitCommand;
import millrace.cli.run.DemoCommand;
import millrace.cli.run.PreviewCommand;
import millrace.cli.run.ProductionCommand;
import millrace.cli.run.RunCommand;
import millrace.cli.run.StatusCommand;
import millrace.cli.run.WatchCommand;
import millrace.terminal.Console;
import picocli.CommandLine;

/**
 * Every command by its name. Only the named command is loaded, so that each starts fast; {@code
 * --help} and the completion of a command's name need all of them.
 */
final class CommandTable {
  private static final Set<String> COMMANDS =
      Collections.unmodifiableSet(
          new LinkedHashSet<>(
              List.of(
                  "demo",
                  "guide",
                  "preview",
                  "plan",
                  "run",
                  "analyze",
                  "predict",
                  "report",
                  "label",
                  "unit",
                  "compare",
                  "runs",
                  "show",
                  "note",
                  "import",
                  "export",
                  "publish",
                  "budget",
                  "bench",
                  "safe",
                  "simulate",
                  "schema",
                  "new",
                  "production",
                  "status",
                  "watch")));

  /** Commands that open no logbook. */
  private static final Set<String> WITHOUT_LOGBOOK =
      Set.of("guide", "plan", "budget", "bench", "safe", "simulate", "schema", "new");

  /** Longer lines are tiring to read. */
  private static final int WIDEST_HELP = 100;

  /** The narrowest column beside the options. */
  private static final int NARROWEST_HELP = 55;

  private CommandTable() {}

  /** The words with 'help', before the name of a command or alone, replaced by the option. */
  static String[] spelled(String[] typed) {
    if (typed.length == 0 || !typed[0].equals("help")) {
      return typed;
    }
    String[] spelled = Arrays.copyOfRange(typed, 1, typed.length + 1);
    spelled[typed.length - 1] = "--help";
    return spelled;
  }

  /** Whether a command is named that opens a logbook, if its words are right. */
  static boolean opensLogbook(String[] args) {
    return isNamed(args) && !WITHOUT_LOGBOOK.contains(args[0]);
  }

  /** The command line that parses the words of {@link #wordsFor}. */
  static CommandLine lineFor(String[] args, Console console) {
    CommandLine line = isNamed(args) ? named(args[0], console) : unnamed(args, console);
    if (console.terminal().shown()) {
      line.setUsageHelpWidth(
          Math.min(WIDEST_HELP, Math.max(NARROWEST_HELP, console.terminal().columns())));
    }
    return OptionValueParser.in(line);
  }

  /** Prints the completions after these words; only the named command is loaded. */
  static int complete(List<String> typed, Console console) {
    boolean help = typed.size() > 1 && typed.get(0).equals("help");
    List<String> words = help ? typed.subList(1, typed.size()) : typed;
    boolean named = words.size() > 1 && COMMANDS.contains(words.get(0));
    CommandLine line = named ? named(words.get(0), console) : all(console);
    TabCompletion.of(line, named ? words.subList(1, words.size()) : words)
        .forEach(console::document);
    return ExitCode.DONE.number();
  }

  private static boolean isNamed(String[] args) {
    return args.length > 0 && COMMANDS.contains(args[0]);
  }

  /** Only options before a command, of which help is one, look at the commands themselves. */
  private static CommandLine unnamed(String[] args, Console console) {
    boolean alone = args.length == 1 && args[0].split("=", 2)[0].equals("--completion");
    boolean misspelt = args.length > 0 && !args[0].startsWith("-");
    return alone || misspelt ? root(console) : all(console);
  }

  private static CommandLine root(Console console) {
    return new CommandLine(new RootCommand(console, COMMANDS));
  }

  private static CommandLine named(String name, Console console) {
    CommandLine line = new CommandLine(made(name, console));
    return line.setCommandName("millrace " + name);
  }

  /**
   * A command by its name; a table of references to all constructors takes longer than one of them.
   */
  private static Object made(String name, Console console) {
    return switch (name) {
      case "demo" -> new DemoCommand(console);
      case "guide" -> new GuideCommand(console);
      case "preview" -> new PreviewCommand(console);
      case "plan" -> PlanCommand.of(console);
      case "run" -> new RunCommand(console);
      case "analyze" -> new AnalyzeCommand(console);
      case "predict" -> new PredictCommand(console);
      case "report" -> new ReportCommand(console);
      case "label" -> new LabelCommand(console);
      case "unit" -> new UnitCommand(console);
      case "compare" -> new CompareCommand(console);
      case "runs" -> new RunsCommand(console);
      case "show" -> new ShowCommand(console);
      case "note" -> new NoteCommand(console);
      case "import" -> new ImportCommand(console);
      case "export" -> new ExportCommand(console);
      case "publish" -> new PublishCommand(console);
      case "budget" -> new DesignBudgetCommand(console);
      case "bench" -> BenchCommand.of(console);
      case "safe" -> new SafeCommand(console);
      case "simulate" -> new SimulateCommand(console);
      case "schema" -> new SchemaCommand(console);
      case "new" -> new NewCommand(console);
      case "production" -> new ProductionCommand(console);
      case "status" -> new StatusCommand(console);
      case "watch" -> new WatchCommand(console);
      default -> throw new IllegalArgumentException(name);
    };
  }

  /** The words that remain for that command line. */
  static String[] wordsFor(String[] args) {
    return isNamed(args) ? Arrays.copyOfRange(args, 1, args.length) : args;
  }

  /** Every command below one, for help and completion. */
  static CommandLine all(Console console) {
    CommandLine line = root(console);
    COMMANDS.forEach(name -> line.addSubcommand(name, made(name, console)));
    CommandGroups.into(line);
    return line;
  }
}
