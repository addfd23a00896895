// SPDX-License-Identifier: Apache-2.0
package millrace.cli.result;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.Evaluations;
import millrace.assessment.JudgementComparison;
import millrace.assessment.basis.JudgementBasis;
import millrace.cli.exit.AssessmentExitCode;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.CommandToType;
import millrace.cli.option.JudgementBasisOptions;
import millrace.cli.option.RunDatesOption;
import millrace.cli.option.RunSourceOption;
import millrace.evidence.Version;
import millrace.fault.BadInputException;
import millrace.fault.NotAnalysableException;
import millrace.logbook.Logbook;
import millrace.logbook.RunFilter;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;
import millrace.report.json.AnalysisJson;
import millrace.report.json.RunJson;
import millrace.report.table.JudgementComparisonTable;
import millrace.report.table.ResultTable;
import millrace.terminal.Console;
import millrace.time.Seeds;
import millrace.time.SystemClock;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Computes the results of runs. */
@Command(
    name = "analyze",
    mixinStandardHelpOptions = true,
    sortOptions = false,
    description = {
      "Computes the results of a run with their uncertainties, and judges them.",
      "With --datasheet or --bench it is judged again without measuring again: readings stay as"
          + " they are, the new results stand beside the old, and what changed is shown side by"
          + " side."
    },
    footer = {
      "",
      "Examples:",
      "  millrace analyze 12",
      "  millrace analyze 12 --all",
      "  millrace analyze 12 --json",
      "  millrace analyze 12 --monte-carlo --seed 7",
      "  millrace analyze 12 --datasheet fx-3-tightened.yaml",
      "  millrace analyze --instrument 40117 --bench bench-new.yaml --since 2026-04-14"
    })
public final class AnalyzeCommand implements Callable<Integer> {
  private final Console console;

  @Spec private CommandSpec spec;

  @Parameters(arity = "0..*", paramLabel = "RUN", description = "Runs, by number or UUID.")
  private List<String> runs = new ArrayList<>();

  @Option(names = "--json", description = "One JSON document on standard output.")
  private boolean json;

  @Option(names = "--all", description = "Every result, below what matters most.")
  private boolean all;

  @Mixin private JudgementBasisOptions other = new JudgementBasisOptions();

  @Option(names = "--batch", paramLabel = "NAME", description = "Every run of this batch.")
  private Optional<String> batch = Optional.empty();

  @Mixin private RunDatesOption days = new RunDatesOption();

  @Option(
      names = "--monte-carlo",
      description = {
        "Compare every result with Monte Carlo trials in which every error is drawn anew;",
        "a note of each result says whether they agree. Takes minutes."
      })
  private boolean monteCarlo;

  @Option(
      names = "--seed",
      paramLabel = "N",
      defaultValue = "1",
      description = "Seed of the trials (default: ${DEFAULT-VALUE}).")
  private long seed;

  @Mixin private RunSourceOption source = new RunSourceOption();

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public AnalyzeCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    boolean searched = runs.isEmpty();
    refuse(
        searched && other.instrument().isEmpty() && batch.isEmpty(),
        "missing: RUN; expected a run, or --instrument or --batch");
    refuse(other.incomplete(), "missing: --bench FILE, which --instrument is taken from");
    other.check();
    boolean keep = source.keeps();
    try (Logbook book = keep ? source.write() : source.readOnly()) {
      if (!keep) {
        console.error(
            source.store().isPresent()
                ? "this user may only read the store: results are shown, not kept"
                : "the logbook is write-protected: results are shown, not kept");
      }
      return runs.size() == 1 ? one(book, keep).number() : many(book, keep).number();
    }
  }

  private void refuse(boolean wrong, String words) {
    if (wrong) {
      throw new CommandLine.ParameterException(spec.commandLine(), words);
    }
  }

  private Assessment assessed(Logbook book, RunReader reader, boolean keep) {
    JudgementBasis basis = other.of(book, reader, keep);
    Assessment assessment = monteCarlo ? tried(reader, basis) : Assessor.assess(reader, basis);
    if (keep) {
      Evaluations.save(book, assessment, Version.CURRENT, new SystemClock().now());
    }
    return assessment;
  }

  private Assessment tried(RunReader reader, JudgementBasis basis) {
    try (ShownTrialProgress progress = new ShownTrialProgress(console)) {
      return Assessor.assess(reader, basis, new Seeds(seed), progress);
    }
  }

  private ExitCode one(Logbook book, boolean keep) {
    RunReader reader = book.reader(book.find(runs.get(0)).id());
    Assessment assessment = assessed(book, reader, keep);
    Optional<JudgementComparison> beside = JudgementComparison.of(reader, assessment);
    AssessmentExitCode verdict = new AssessmentExitCode(assessment);
    if (json) {
      console.document(RunJson.text(AnalysisJson.of(assessment, beside, Version.CURRENT)));
      console.error(verdict.sentence());
    } else {
      verdict.show(console);
      if (all) {
        console.print("");
        console.table(ResultTable.print(assessment.results()));
      } else {
        console.print(
            "All %s results: %s"
                .formatted(
                    assessment.results().size(),
                    CommandToType.onRun("analyze", reader.summary().id(), book, "--all")));
        console.print(
            "Page with plots: " + CommandToType.onRun("report", reader.summary().id(), book));
      }
      beside.ifPresent(b -> console.table(JudgementComparisonTable.print(b)));
    }
    return verdict.code();
  }

  private List<RunSummary> asked(Logbook book) {
    if (!runs.isEmpty()) {
      return runs.stream().map(book::find).toList();
    }
    return book.runs(days.of(RunFilter.ALL.ofBatch(batch).with(other.instrument())));
  }

  /** One line per run; a run that cannot be judged is named and left out. */
  private ExitCode many(Logbook book, boolean keep) {
    List<ExitCode> codes = new ArrayList<>();
    JudgementComparisonTable.Lines lines = new JudgementComparisonTable.Lines();
    ObjectNode document = JsonNodeFactory.instance.objectNode();
    document.put("millrace", Version.CURRENT);
    ArrayNode array = document.putArray("runs");
    for (RunSummary run : asked(book)) {
      RunReader reader = book.reader(run.id());
      try {
        Assessment assessment = assessed(book, reader, keep);
        Optional<JudgementComparison> beside = JudgementComparison.of(reader, assessment);
        lines.add(assessment, beside);
        if (json) {
          array.add(AnalysisJson.of(assessment, beside, Version.CURRENT));
        }
        codes.add(new AssessmentExitCode(assessment).code());
      } catch (NotAnalysableException | BadInputException e) {
        console.error("millrace: run %s is left out: %s".formatted(run.id(), e.getMessage()));
        codes.add(ExitCode.INCOMPLETE);
      }
    }
    if (json) {
      console.document(RunJson.text(document));
    } else {
      console.table(lines.text());
    }
    return ExitCode.worst(codes);
  }
}
