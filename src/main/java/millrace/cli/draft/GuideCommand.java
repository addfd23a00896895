// SPDX-License-Identifier: Apache-2.0
package millrace.cli.draft;

import java.nio.file.Path;
import java.util.concurrent.Callable;
import millrace.cli.exit.ExitCode;
import millrace.report.guide.Guide;
import millrace.terminal.Console;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Writes the guide for people who are new at a bench. */
@Command(
    name = "guide",
    mixinStandardHelpOptions = true,
    description = {
      "Writes the guide for a newcomer as one HTML file that needs no network: wiring in drawings,"
          + " which meter is enough, a run by hand, from the first driver to the first night, a"
          + " glossary, safety.",
      "Open it in any browser, or print it."
    },
    footer = {"", "Example:", "  millrace guide"})
public final class GuideCommand implements Callable<Integer> {
  private final Console console;

  @Option(
      names = "-o",
      paramLabel = "FILE",
      defaultValue = "millrace-guide.html",
      description = "Where it goes (default: ${DEFAULT-VALUE}).")
  private Path file = Path.of("millrace-guide.html");

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public GuideCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    Guide.write(file);
    console.print(file.toString());
    return ExitCode.DONE.number();
  }
}
