package millrace.cli;

import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.Basis;
import millrace.assessment.Evaluations;
import millrace.datasheet.DatasheetFile;
import millrace.document.YamlFile;
import millrace.logbook.FileRole;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import millrace.report.AnalysisJson;
import millrace.report.ResultTable;
import millrace.time.Seeds;
import millrace.time.SystemClock;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Computes the results of a run. */
@Command(
    name = "analyze",
    mixinStandardHelpOptions = true,
    description = "Computes the results of a run with their uncertainties, and judges them.",
    footer = {
      "",
      "Examples:",
      "  millrace analyze 12",
      "  millrace analyze 12 --json",
      "  millrace analyze 12 --monte-carlo --seed 7"
    })
final class AnalyzeCommand implements Callable<Integer> {
  private final Console console;

  @Parameters(paramLabel = "RUN", description = "A run, by number or UUID.")
  private String run = "";

  @Option(names = "--json", description = "One JSON document on standard output.")
  private boolean json;

  @Option(
      names = "--datasheet",
      paramLabel = "FILE",
      description = "Judge by this datasheet instead of the kept one.")
  private Optional<Path> datasheet = Optional.empty();

  @Option(
      names = "--monte-carlo",
      description = {
        "Hold the results of each range against trials with every error redrawn;",
        "a note of each result says whether they agree. Takes minutes."
      })
  private boolean monteCarlo;

  @Option(
      names = "--seed",
      paramLabel = "N",
      defaultValue = "1",
      description = "Where the chance of the trials comes from (default: ${DEFAULT-VALUE}).")
  private long seed;

  @Mixin private LogbookOption logbook = new LogbookOption();

  AnalyzeCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    boolean keep = logbook.keeps();
    try (Logbook book = keep ? logbook.write() : logbook.readOnly()) {
      RunReader reader = book.reader(book.find(run).id());
      Basis basis = basis(book, reader);
      Assessment assessment =
          monteCarlo
              ? Assessor.assess(reader, basis, new Seeds(seed))
              : Assessor.assess(reader, basis);
      if (keep) {
        Evaluations.save(book, assessment, RootCommand.VERSION, new SystemClock().now());
      } else {
        console.error("the logbook is write-protected: results are shown, not kept");
      }
      Verdict verdict = new Verdict(assessment);
      if (json) {
        console.print(RunJson.text(AnalysisJson.of(assessment, RootCommand.VERSION)));
        console.error(verdict.sentence());
      } else {
        console.print(ResultTable.print(assessment.results()));
        assessment.notes().forEach(n -> console.print("Note: " + n + "."));
        console.print(verdict.sentence());
      }
      return verdict.code().number();
    }
  }

  private Basis basis(Logbook book, RunReader reader) {
    Basis kept = Basis.of(reader);
    if (datasheet.isEmpty()) {
      return kept;
    }
    String name = datasheet.get().toString();
    byte[] content = YamlFile.bytes(datasheet.get());
    Basis other = kept.with(DatasheetFile.read(name, content), Hash.sha256(content));
    if (logbook.keeps()) {
      book.keep(FileRole.DATASHEET, name, content);
    }
    return other;
  }
}
