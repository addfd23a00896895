package millrace.cli.logbook;

import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.DaysOption;
import millrace.cli.option.LogbookOption;
import millrace.logbook.Logbook;
import millrace.logbook.RunFilter;
import millrace.logbook.RunSummary;
import millrace.report.json.RunJson;
import millrace.terminal.Console;
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
      "  millrace runs --instrument 20417 --since 2026-03-01"
    })
public final class RunsCommand implements Callable<Integer> {
  private final Console console;

  @Option(
      names = "--instrument",
      paramLabel = "SN",
      description = "Only runs that an instrument of this serial number or name took part in.")
  private Optional<String> instrument = Optional.empty();

  @Mixin private DaysOption days = new DaysOption();

  @Option(names = "--json", description = "One JSON document on standard output.")
  private boolean json;

  private static final int UNIT = 9;
  private static final int WIDEST_UNIT = 32;

  @Mixin private LogbookOption logbook = new LogbookOption();

  /**
   * The command at a console.
   *
   * @param console where it prints and asks
   */
  public RunsCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    try (Logbook book = logbook.readOnly()) {
      List<RunSummary> runs = book.runs(filter());
      if (json) {
        console.print(RunJson.list(runs));
      } else {
        table(runs);
      }
    }
    return ExitCode.DONE.number();
  }

  private RunFilter filter() {
    return days.of(RunFilter.ALL.with(instrument));
  }

  private void table(List<RunSummary> runs) {
    if (runs.isEmpty()) {
      console.print("no runs in " + logbook.path());
      return;
    }
    int unit = runs.stream().mapToInt(r -> r.start().unit().length()).max().orElse(0);
    String row =
        "%5s  %-" + Math.max(UNIT, Math.min(WIDEST_UNIT, unit)) + "s  %-20s  %-10s  %-11s  %s";
    console.print(row.formatted("run", "unit", "began (UTC)", "origin", "state", "title"));
    for (RunSummary r : runs) {
      console.print(
          row.formatted(
              r.id(),
              r.start().unit(),
              r.start()
                  .measuredAt()
                  .map(at -> at.truncatedTo(ChronoUnit.SECONDS).toString())
                  .orElse("not stated"),
              r.start().origin().text(),
              r.state().text(),
              r.start().title()));
    }
  }
}
