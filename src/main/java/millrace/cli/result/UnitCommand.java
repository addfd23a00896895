// SPDX-License-Identifier: Apache-2.0
package millrace.cli.result;

import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.Optional;
import java.util.concurrent.Callable;
import millrace.assessment.history.UnitHistory;
import millrace.assessment.history.UnitHistoryReader;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.RunSourceOption;
import millrace.logbook.Logbook;
import millrace.report.json.RunJson;
import millrace.report.json.UnitHistoryJson;
import millrace.report.table.UnitHistoryTable;
import millrace.report.unit.UnitHistoryPage;
import millrace.report.unit.UnitHistoryWords;
import millrace.terminal.Console;
import millrace.time.SystemClock;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Shows one unit over all its runs. */
@Command(
    name = "unit",
    mixinStandardHelpOptions = true,
    description = {
      "Shows one unit over all its runs: the current error of each range over time, repairs, drift"
          + " with its interval, when it is expected to leave its limits, and when to look again.",
      "A drift needs three visits on days of their own since the last repair ('note --repair').",
      "Runs that are simulated, unverified or not to be used are left out and named."
    },
    footer = {
      "",
      "Examples:",
      "  millrace unit FX3-00042",
      "  millrace unit FX3-00042 -o fx3-00042.html"
    })
public final class UnitCommand implements Callable<Integer> {
  private final Console console;

  @Parameters(paramLabel = "SN", description = "Serial number of the unit.")
  private String unit = "";

  @Option(names = "--json", description = "One JSON document on standard output.")
  private boolean json;

  @Option(names = "-o", paramLabel = "FILE", description = "A page with pictures, too.")
  private Optional<Path> page = Optional.empty();

  @Mixin private RunSourceOption source = new RunSourceOption();

  /**
   * The command at a console.
   *
   * @param console its output
   */
  public UnitCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    try (Logbook book = source.readOnly()) {
      UnitHistory history = UnitHistoryReader.of(book, unit);
      if (json) {
        console.document(RunJson.text(UnitHistoryJson.of(history)));
      } else {
        show(history);
      }
      page.ifPresent(file -> write(file, history));
    }
    return ExitCode.DONE.number();
  }

  private void show(UnitHistory history) {
    UnitHistoryWords.verdict(history).forEach(console::paragraph);
    LocalDate today = LocalDate.ofInstant(new SystemClock().now(), ZoneOffset.UTC);
    history
        .lookAgain()
        .filter(l -> l.by().isBefore(today))
        .ifPresent(l -> console.paragraph("That day has passed: measure it now."));
    console.print("");
    if (!history.ranges().isEmpty()) {
      console.table(UnitHistoryTable.ranges(history));
    }
    console.table(UnitHistoryTable.runs(history).stripTrailing());
    console.print("");
    UnitHistoryWords.remarks(history).forEach(console::paragraph);
    history.notes().forEach(console::paragraph);
  }

  private void write(Path file, UnitHistory history) {
    UnitHistoryPage.write(file, history);
    console.error("page: " + file);
  }
}
