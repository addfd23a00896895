// SPDX-License-Identifier: Apache-2.0
package millrace.cli.logbook;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.RunDatesOption;
import millrace.cli.option.RunSourceOption;
import millrace.logbook.LatestRunVerdict;
import millrace.logbook.Logbook;
import millrace.logbook.RunFilter;
import millrace.logbook.RunSummary;
import millrace.report.json.RunJson;
import millrace.report.table.RunListTable;
import millrace.terminal.Console;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Lists the runs of a logbook. */
@Command(
    name = "runs",
    mixinStandardHelpOptions = true,
    description = "Lists the runs of a logbook, the newest last.",
    footer = {
      "",
      "Examples:",
      "  millrace runs",
      "  millrace runs --failed --batch B7",
      "  millrace runs --text 'loose plug'",
      "  millrace runs --instrument 20417 --since 2026-03-01"
    })
public final class RunsCommand implements Callable<Integer> {
  private final Console console;

  @Option(
      names = "--instrument",
      paramLabel = "SN",
      description = "Only runs that an instrument of this serial number or name took part in.")
  private Optional<String> instrument = Optional.empty();

  @Option(names = "--unit", paramLabel = "SN", description = "Only runs of this unit.")
  private Optional<String> unit = Optional.empty();

  @Option(names = "--batch", paramLabel = "NAME", description = "Only runs of this batch.")
  private Optional<String> batch = Optional.empty();

  @Option(
      names = "--text",
      paramLabel = "WORD",
      description =
          "Only runs whose unit, title, operator, batch, tag or remarks hold this; case does not"
              + " matter.")
  private Optional<String> text = Optional.empty();

  @Option(names = "--failed", description = "Only runs that failed a limit when last judged.")
  private boolean failed;

  @Mixin private RunDatesOption days = new RunDatesOption();

  @Option(names = "--json", description = "One JSON document on standard output.")
  private boolean json;

  @Mixin private RunSourceOption source = new RunSourceOption();

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public RunsCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    try (Logbook book = source.readOnly()) {
      Map<Long, LatestRunVerdict> verdicts = new HashMap<>();
      book.verdicts(filter()).forEach(v -> verdicts.put(v.run(), v));
      List<RunSummary> runs =
          book.runs(filter()).stream()
              .filter(r -> !failed || hasFailed(verdicts.get(r.id())))
              .toList();
      if (json) {
        console.document(RunJson.list(runs, verdicts));
      } else if (runs.isEmpty()) {
        console.print("no such runs in " + book.name());
      } else {
        console.table(RunListTable.print(runs, verdicts));
      }
    }
    return ExitCode.DONE.number();
  }

  private static boolean hasFailed(@Nullable LatestRunVerdict verdict) {
    return verdict != null && verdict.failedFirst().isPresent();
  }

  private RunFilter filter() {
    return days.of(RunFilter.ALL.with(instrument).ofUnit(unit).ofBatch(batch).holding(text));
  }
}
