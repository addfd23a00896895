// SPDX-License-Identifier: Apache-2.0
package millrace.cli.result;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import millrace.assessment.comparison.ComparedRun;
import millrace.assessment.comparison.Comparison;
import millrace.assessment.comparison.ComparisonFactor;
import millrace.assessment.comparison.ResultPivot;
import millrace.assessment.comparison.ResultsByGroup;
import millrace.assessment.comparison.RunComparer;
import millrace.assessment.comparison.UnitFactors;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.RunDatesOption;
import millrace.cli.option.RunSourceOption;
import millrace.document.FileMessageText;
import millrace.document.file.AtomicFile;
import millrace.evidence.Version;
import millrace.exchange.ComparisonCsv;
import millrace.logbook.Logbook;
import millrace.logbook.RunFilter;
import millrace.logbook.RunSummary;
import millrace.report.comparison.ComparisonReport;
import millrace.report.comparison.ComparisonTable;
import millrace.report.comparison.ScatterSourceTable;
import millrace.report.json.ComparisonJson;
import millrace.report.json.RunJson;
import millrace.terminal.Console;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Compares runs with their limits and with one another. */
@Command(
    name = "compare",
    mixinStandardHelpOptions = true,
    sortOptions = false,
    description =
        "Compares runs, units and batches with their limits and with one another: yield,"
            + " capability, outliers, drift between runs, batch against batch; gauge studies and"
            + " reproducibility of set-ups, if the runs were made for that.",
    footer = {
      "",
      "Examples:",
      "  millrace compare 12 13 14",
      "  millrace compare --batch B6 --batch B7 -o batches.html",
      "  millrace compare --unit FX3-00107 --json",
      "  millrace compare --batch B7 --factors reels.csv --by reel",
      "  millrace compare 12 15 --constants"
    })
public final class CompareCommand implements Callable<Integer> {
  private final Console console;

  @Spec private CommandSpec spec;

  @Parameters(arity = "0..*", paramLabel = "RUN", description = "Runs, by number or UUID.")
  private List<String> runs = new ArrayList<>();

  @Option(names = "--unit", paramLabel = "SN", description = "All runs of this unit; repeatable.")
  private List<String> units = new ArrayList<>();

  @Option(names = "--batch", paramLabel = "NAME", description = "All of this batch; repeatable.")
  private List<String> batches = new ArrayList<>();

  @Option(names = "--tag", paramLabel = "NAME", description = "All of this tag; repeatable.")
  private List<String> tags = new ArrayList<>();

  @Mixin private RunDatesOption days = new RunDatesOption();

  @Option(
      names = "--by",
      paramLabel = "FACTOR",
      split = ",",
      description =
          "Set results group beside group: by bench, batch, operator, fixture, slot, shift,"
              + " instrument, or a column of --factors. Several make a group together; how much of"
              + " the scatter each brings is told, too.")
  private List<String> by = new ArrayList<>();

  @Option(
      names = "--factors",
      paramLabel = "FILE",
      description =
          "A CSV table of what else is known of units, such as the reel of a part: a column 'unit'"
              + " with serial numbers and a column for each factor.")
  private Optional<Path> factors = Optional.empty();

  @Option(
      names = "--causes",
      description = "Find the likeliest cause of each unit that failed, too; takes its time.")
  private boolean causes;

  @Option(
      names = "--constants",
      description = "Compare later runs of a unit with the constants from the first run named.")
  private boolean constants;

  @Option(names = "--all", description = "Every quantity and group, below what matters most.")
  private boolean all;

  @Option(names = "--json", description = "One JSON document on standard output.")
  private boolean json;

  @Option(names = "--csv", paramLabel = "FILE", description = "Every result as CSV, too.")
  private Optional<Path> csv = Optional.empty();

  @Option(
      names = {"-o", "--output"},
      paramLabel = "FILE",
      description = "A page with pictures, too.")
  private Optional<Path> page = Optional.empty();

  @Mixin private RunSourceOption source = new RunSourceOption();

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public CompareCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    boolean searched = !units.isEmpty() || !batches.isEmpty() || !tags.isEmpty() || days.given();
    if (runs.isEmpty() && !searched) {
      throw new CommandLine.ParameterException(
          spec.commandLine(),
          "nothing to compare; expected RUN numbers, or --unit, --batch, --tag, --since or"
              + " --until");
    }
    if (constants && (searched || runs.size() < 2)) {
      throw new CommandLine.ParameterException(
          spec.commandLine(),
          "--constants wants a RUN that gave them, and RUNs to hold against it");
    }
    if (constants && beside()) {
      throw new CommandLine.ParameterException(
          spec.commandLine(),
          "--constants prints a table or --json; expected none of -o, --csv, --by and --factors");
    }
    UnitFactors own = factors.map(UnitFactors::read).orElse(UnitFactors.NONE);
    List<ComparisonFactor> grouped = by.stream().map(name -> factor(name, own)).distinct().toList();
    try (Logbook book = source.readOnly()) {
      if (constants) {
        List<RunSummary> named = runs.stream().map(book::find).toList();
        return new UnitConstantsCheck(book, named).tell(console, json).number();
      }
      Comparison compared = RunComparer.of(book, asked(book, searched), !searched, own);
      Comparison comparison = causes ? RunComparer.withCauses(book, compared) : compared;
      Optional<ResultsByGroup> groups =
          grouped.isEmpty() ? Optional.empty() : Optional.of(ResultPivot.of(comparison, grouped));
      if (json) {
        console.document(RunJson.text(ComparisonJson.of(comparison, groups, Version.CURRENT)));
      } else {
        ComparisonTable.paragraphs(comparison).forEach(console::paragraph);
        groups.ifPresent(g -> ScatterSourceTable.sentences(g).forEach(console::paragraph));
        console.table(ComparisonTable.tables(comparison, groups, all).stripTrailing());
      }
      csv.ifPresent(file -> writeCsv(comparison, file));
      page.ifPresent(file -> writePage(comparison, groups, book, file));
      return code(comparison).number();
    }
  }

  private boolean beside() {
    return csv.isPresent() || page.isPresent() || !by.isEmpty() || factors.isPresent();
  }

  private ComparisonFactor factor(String name, UnitFactors own) {
    List<ComparisonFactor> known = own.onDemand();
    return known.stream()
        .filter(f -> f.text().equals(name.strip()))
        .findFirst()
        .orElseThrow(
            () ->
                new CommandLine.ParameterException(
                    spec.commandLine(),
                    "--by %s is no factor; expected %s%s"
                        .formatted(
                            FileMessageText.quoted(name),
                            FileMessageText.oneOf(known.stream().map(f -> f.text()).toList()),
                            own.factors().isEmpty() ? ", or a column of --factors" : "")));
  }

  private List<RunSummary> asked(Logbook book, boolean searched) {
    List<RunSummary> asked = new ArrayList<>();
    runs.forEach(name -> asked.add(book.find(name)));
    if (searched) {
      RunFilter within = days.of(RunFilter.ALL);
      for (Optional<String> unit : each(units)) {
        for (Optional<String> batch : each(batches)) {
          for (Optional<String> tag : each(tags)) {
            asked.addAll(book.runs(within.ofUnit(unit).ofBatch(batch).ofTag(tag)));
          }
        }
      }
    }
    return asked;
  }

  /** Each given name, or none where all names count. */
  private static List<Optional<String>> each(List<String> names) {
    return names.isEmpty() ? List.of(Optional.empty()) : names.stream().map(Optional::of).toList();
  }

  private void writeCsv(Comparison comparison, Path file) {
    AtomicFile.write(file, "--csv", out -> ComparisonCsv.write(comparison, out));
    console.error("results: " + file);
  }

  private void writePage(
      Comparison comparison, Optional<ResultsByGroup> groups, Logbook book, Path file) {
    ComparisonReport.write(file, comparison, groups, book);
    console.error("page: " + file);
  }

  /** The first test of each unit counts. */
  private static ExitCode code(Comparison comparison) {
    List<ExitCode> codes = new ArrayList<>();
    for (ComparedRun run : comparison.runs()) {
      if (run.first() && (run.failed() || run.open())) {
        codes.add(run.failed() ? ExitCode.FAIL : ExitCode.INCOMPLETE);
      }
    }
    return ExitCode.worst(codes);
  }
}
