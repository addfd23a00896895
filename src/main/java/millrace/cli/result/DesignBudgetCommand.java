// SPDX-License-Identifier: Apache-2.0
package millrace.cli.result;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import millrace.analysis.design.DesignCircuit;
import millrace.analysis.design.DesignPrediction;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.design.DesignFromDatasheet;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.LogbookOption;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.fault.NotAnalysableException;
import millrace.logbook.Logbook;
import millrace.report.json.DesignBudgetJson;
import millrace.report.page.DesignReport;
import millrace.report.table.DesignBudgetTable;
import millrace.terminal.Console;
import millrace.time.Seeds;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Computes the uncertainty budget that the parts of a datasheet promise. */
@Command(
    name = "budget",
    mixinStandardHelpOptions = true,
    description =
        "Predicts from the parts in a datasheet, per range: current, tempco, output resistance and"
            + " compliance voltage, their worst case, root-sum-square and spread over drawn units,"
            + " and each part's share.",
    footer = {
      "",
      "Examples:",
      "  millrace budget examples/fx-3.datasheet.yaml",
      "  millrace budget examples/fx-3.datasheet.yaml --run 12 -o budget.html"
    })
public final class DesignBudgetCommand implements Callable<Integer> {
  private static final int LEAST_TRIALS = 100;
  private static final int MOST_TRIALS = 1_000_000;

  private final Console console;

  @Spec private CommandSpec spec;

  @Parameters(paramLabel = "DATASHEET", description = "The datasheet file, with its parts.")
  private Path file;

  @Option(names = "--json", description = "One JSON document on standard output.")
  private boolean json;

  @Option(
      names = "--trials",
      paramLabel = "N",
      defaultValue = "20000",
      description = "How many units are drawn, 100 to 1000000; default ${DEFAULT-VALUE}.")
  private int trials;

  @Option(
      names = "--seed",
      paramLabel = "SEED",
      defaultValue = "1",
      description = "What they are drawn with; default ${DEFAULT-VALUE}.")
  private long seed;

  @Option(
      names = "-o",
      paramLabel = "FILE",
      description = "Writes a page with pictures there instead, one HTML file.")
  private Optional<Path> page = Optional.empty();

  @Option(
      names = "--run",
      paramLabel = "RUN",
      description = "With -o: a run, by number or UUID, whose results stand beside.")
  private Optional<String> run = Optional.empty();

  @Mixin private LogbookOption logbook = new LogbookOption();

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public DesignBudgetCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    refuseWhatDoesNotGoTogether();
    if (trials < LEAST_TRIALS || trials > MOST_TRIALS) {
      throw new CommandLine.ParameterException(
          spec.commandLine(),
          "--trials is %s; expected %s to %s.".formatted(trials, LEAST_TRIALS, MOST_TRIALS));
    }
    Datasheet datasheet = DatasheetFile.read(file);
    DesignCircuit circuit = DesignFromDatasheet.of(datasheet).orElseThrow(this::nothingToPredict);
    DesignPrediction prediction =
        DesignPrediction.of(circuit, datasheet.coverage(), trials, new Seeds(seed));
    List<String> notes = DesignFromDatasheet.notes(datasheet);
    if (page.isPresent()) {
      DesignReport.write(
          page.get(),
          new DesignReport.Design(
              datasheet.name(), prediction, seed, notes, run.map(this::measured)));
      console.print(page.get().toString());
    } else if (json) {
      console.document(DesignBudgetJson.print(datasheet.name(), prediction, seed, notes));
    } else {
      DesignBudgetTable.lines(datasheet.name(), prediction, seed, notes).forEach(console::print);
    }
    return ExitCode.DONE.number();
  }

  private Assessment measured(String id) {
    try (Logbook book = logbook.readOnly()) {
      return Assessor.assess(book.reader(book.find(id).id()));
    }
  }

  private void refuseWhatDoesNotGoTogether() {
    if (page.isPresent() ? json : run.isPresent()) {
      throw new CommandLine.ParameterException(
          spec.commandLine(), "-o FILE goes without --json, and --run RUN with -o FILE only.");
    }
  }

  private NotAnalysableException nothingToPredict() {
    return new NotAnalysableException(
        file
            + ": no range says what it is made from; expected 'made from' in one range or more."
            + " Add the parts and 'made from: {reference: ..., set voltage: ..., resistor: ...}'.");
  }
}
