// SPDX-License-Identifier: Apache-2.0
package millrace.cli.exit;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Optional;
import millrace.fault.MillraceException;
import millrace.terminal.Console;
import picocli.CommandLine;

/** Executes one command; turns its end into a sentence and an exit code. */
public final class CommandExecution {
  private CommandExecution() {}

  /** A class and no functions, for which a class archive has no place: the parser is too old. */
  private record Faults(Console console)
      implements CommandLine.IParameterExceptionHandler, CommandLine.IExecutionExceptionHandler {
    @Override
    public int handleParseException(CommandLine.ParameterException e, String[] given) {
      return usage(e, console);
    }

    @Override
    public int handleExecutionException(
        Exception e, CommandLine failed, CommandLine.ParseResult parsed) {
      return failed(e, console);
    }
  }

  /**
   * Executes a command in this process.
   *
   * @param line the parser of the words
   * @param words the words after the name of the command
   * @param console its output and input
   * @return the exit code
   */
  public static int of(CommandLine line, String[] words, Console console) {
    line.setOut(new PrintWriter(console.out(), true, StandardCharsets.UTF_8));
    line.setErr(new PrintWriter(console.err(), true, StandardCharsets.UTF_8));
    Faults faults = new Faults(console);
    line.setParameterExceptionHandler(faults);
    line.setExecutionExceptionHandler(faults);
    line.setExpandAtFiles(false);
    int code = executed(line, words, console);
    return whole(code, console);
  }

  /**
   * A Java stream reports no error when a write fails.
   *
   * @param code the exit code of what was printed
   * @param console where
   * @return that, or the code of an output that is incomplete
   */
  public static int whole(int code, Console console) {
    console.flush();
    Optional<String> lost = console.lost();
    if (lost.isEmpty()) {
      return code;
    }
    console.error("millrace: " + Console.outputLost(lost.get()));
    return ExitCode.LOGBOOK.worst(code);
  }

  /**
   * Out of memory, or an incomplete installation: without this the process would exit with 1, the
   * code of a fail.
   */
  private static int executed(CommandLine line, String[] words, Console console) {
    try {
      return line.execute(words);
    } catch (Error e) {
      return InternalErrorReport.report(e, console);
    }
  }

  private static int usage(CommandLine.ParameterException e, Console console) {
    CommandLine command = e.getCommandLine();
    console.error("millrace: " + UsageErrorText.of(e));
    console.error(
        "Try '" + command.getCommandSpec().qualifiedName() + " --help' for what it takes.");
    return ExitCode.BAD_INPUT.number();
  }

  private static int failed(Exception e, Console console) {
    if (e instanceof MillraceException known) {
      console.error("millrace: " + known.getMessage());
      Arrays.stream(known.getSuppressed())
          .filter(MillraceException.class::isInstance)
          .forEach(later -> console.error("millrace: and then: " + later.getMessage()));
      return ExitCode.of(known).number();
    }
    return InternalErrorReport.report(e, console);
  }
}
