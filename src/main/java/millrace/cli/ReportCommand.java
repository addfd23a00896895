package millrace.cli;

import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import millrace.report.Report;
import millrace.report.TestSheet;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Writes the report of a run. */
@Command(
    name = "report",
    mixinStandardHelpOptions = true,
    description = "Writes the report of a run as one HTML file that needs no network.",
    footer = {
      "",
      "Examples:",
      "  millrace report 12 -o fx3-0042.html",
      "  millrace report 12 --sheet -o fx3-0042-sheet.html"
    })
final class ReportCommand implements Callable<Integer> {
  private final Console console;

  @Parameters(paramLabel = "RUN", description = "A run, by number or UUID.")
  private String run = "";

  @Option(
      names = "-o",
      paramLabel = "FILE",
      description = "Where it goes; report-RUN.html or sheet-RUN.html unless given.")
  private Optional<Path> file = Optional.empty();

  @Option(
      names = "--sheet",
      description = "The test sheet that goes with the unit, one or two pages, instead.")
  private boolean testSheet;

  @Mixin private LogbookOption logbook = new LogbookOption();

  ReportCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    try (Logbook book = logbook.readOnly()) {
      long id = book.find(run).id();
      RunReader reader = book.reader(id);
      Assessment assessment = Assessor.assess(reader);
      Path out =
          file.orElseGet(() -> Path.of("%s-%s.html".formatted(testSheet ? "sheet" : "report", id)));
      if (testSheet) {
        TestSheet.write(out, assessment, reader);
      } else {
        Report.write(out, assessment, reader);
      }
      console.print(out.toString());
      console.error(new Judged(assessment).sentence());
    }
    return ExitCode.DONE.number();
  }
}
