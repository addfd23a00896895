// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import java.util.Arrays;
import millrace.cli.exit.CommandExecution;
import millrace.cli.exit.ExitCode;
import millrace.logbook.LogbookLibrary;
import millrace.terminal.Console;
import picocli.CommandLine;

/** The entry point of the process. */
public final class Main {
  /** The hidden command of completion scripts; people do not need it. */
  private static final String COMPLETE = "--complete";

  /** The hidden command that packages are made with. */
  private static final String MANUAL_PAGE = "--manual-page";

  static {
    // Otherwise all libraries are looked through at each start for one that is not there. What they
    // log nobody asked for: what fails comes as an exception. A log would be set up at each start.
    System.setProperty("picocli.disable.closures", "true");
    System.setProperty("slf4j.provider", "org.slf4j.helpers.NOP_FallbackServiceProvider");
    System.setProperty("slf4j.internal.verbosity", "WARN");
  }

  private Main() {}

  /**
   * Starts the command named by the first word.
   *
   * @param args the words after the program's name
   */
  public static void main(String[] args) {
    if (CommandTable.opensLogbook(args)) {
      LogbookLibrary.load();
    }
    System.exit(run(args, Console.ofProcess()));
  }

  /**
   * Runs one command, in this process.
   *
   * @param typed the words after the program's name
   * @param console its output and input
   * @return the exit code
   */
  static int run(String[] typed, Console console) {
    if (typed.length > 0 && typed[0].equals(COMPLETE)) {
      return CommandTable.complete(Arrays.asList(typed).subList(1, typed.length), console);
    }
    if (typed.length == 1 && typed[0].equals(MANUAL_PAGE)) {
      console.document(ManualPage.of(CommandTable.all(console)).stripTrailing());
      return CommandExecution.whole(ExitCode.DONE.number(), console);
    }
    if (typed.length == 1 && RootCommand.ASKED_FOR_VERSION.contains(typed[0])) {
      console.print(RootCommand.VERSION);
      return CommandExecution.whole(ExitCode.DONE.number(), console);
    }
    String[] args = CommandTable.spelled(typed);
    CommandLine line = CommandTable.lineFor(args, console);
    return CommandExecution.of(line, CommandTable.wordsFor(args), console);
  }
}
