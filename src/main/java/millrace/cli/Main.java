// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import java.util.Arrays;
import millrace.cli.exit.CommandExecution;
import millrace.terminal.Console;
import picocli.CommandLine;

/** Where the process starts. */
public final class Main {
  /** What completion scripts call; no person needs to. */
  private static final String COMPLETE = "--complete";

  private Main() {}

  /**
   * Starts the command that the first word names.
   *
   * @param args the words after the program's name
   */
  public static void main(String[] args) {
    System.exit(run(args, Console.ofProcess()));
  }

  /**
   * Runs one command, in this process.
   *
   * @param typed the words after the program's name
   * @param console where it prints and reads
   * @return the exit code
   */
  static int run(String[] typed, Console console) {
    if (typed.length > 0 && typed[0].equals(COMPLETE)) {
      return CommandTable.complete(Arrays.asList(typed).subList(1, typed.length), console);
    }
    String[] args = CommandTable.spelled(typed);
    CommandLine line = CommandTable.lineFor(args, console);
    return CommandExecution.of(line, CommandTable.wordsFor(args), console);
  }
}
