package millrace.cli;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Optional;
import millrace.fault.MillraceException;
import picocli.CommandLine;

/** Where the process starts. */
public final class Main {
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
    String[] args = CommandTable.spelled(typed);
    CommandLine line = CommandTable.lineFor(args, console);
    line.setOut(new PrintWriter(console.out(), true, StandardCharsets.UTF_8));
    line.setErr(new PrintWriter(console.err(), true, StandardCharsets.UTF_8));
    line.setParameterExceptionHandler((e, words) -> usage(e, console));
    line.setExecutionExceptionHandler((e, failed, parsed) -> failed(e, console));
    line.setExpandAtFiles(false);
    int code = executed(line, args, console);
    return whole(code, console);
  }

  /** A stream of Java keeps silent where nothing can be written. */
  private static int whole(int code, Console console) {
    console.flush();
    Optional<String> lost = console.lost();
    if (lost.isEmpty()) {
      return code;
    }
    console.error("millrace: " + Told.stdout(lost.get()));
    return ExitCode.LOGBOOK.worst(code);
  }

  /**
   * Out of memory, or half installed: left to itself the process would end with 1, as on a fail.
   */
  private static int executed(CommandLine line, String[] args, Console console) {
    try {
      return line.execute(CommandTable.wordsFor(args));
    } catch (Error e) {
      return Unexpected.report(e, console);
    }
  }

  private static int usage(CommandLine.ParameterException e, Console console) {
    CommandLine command = e.getCommandLine();
    console.error("millrace: " + e.getMessage());
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
    return Unexpected.report(e, console);
  }
}
