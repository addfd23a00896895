package millrace.cli;

import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Parameters;

/** Prints the JSON Schema of a kind of file. */
@Command(
    name = "schema",
    mixinStandardHelpOptions = true,
    description = "Prints the JSON Schema of a kind of file: sequence, datasheet, bench, driver.",
    footer = {"", "Example:", "  millrace schema sequence > sequence.schema.json"})
final class SchemaCommand implements Callable<Integer> {
  private final Console console;

  @Parameters(paramLabel = "NAME", description = "${COMPLETION-CANDIDATES}")
  private Kind kind;

  /** The kinds of file that have a schema. */
  enum Kind {
    sequence,
    datasheet,
    bench,
    driver
  }

  SchemaCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    console.print(kind.name());
    return ExitCode.DONE.number();
  }
}
