// SPDX-License-Identifier: Apache-2.0
package millrace.cli.plan;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.Stack;
import java.util.UUID;
import java.util.concurrent.Callable;
import millrace.assessment.Assessor;
import millrace.assessment.comparison.Comparison;
import millrace.assessment.comparison.MeasuredSpread;
import millrace.assessment.comparison.RunComparer;
import millrace.assessment.comparison.UnitFactors;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.BenchFileOptions;
import millrace.datasheet.Datasheet;
import millrace.document.file.AtomicFile;
import millrace.evidence.DecisionRule.Risks;
import millrace.fault.InstrumentException;
import millrace.fault.InterlockException;
import millrace.fault.NotAnalysableException;
import millrace.logbook.Logbook;
import millrace.logbook.RunFilter;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;
import millrace.night.BenchVoltageSources;
import millrace.night.forecast.ForecastBoards;
import millrace.night.forecast.ForecastNights;
import millrace.planning.boards.BoardPlan;
import millrace.planning.boards.BoardScope;
import millrace.planning.boards.BoardSearch;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityException;
import millrace.quantity.QuantityText;
import millrace.report.json.BoardPlanJson;
import millrace.report.table.BoardPlanTable;
import millrace.terminal.Console;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/**
 * Plans a board test: the fewest points that separate good boards from bad ones at stated risks.
 */
@Command(
    name = "boards",
    mixinStandardHelpOptions = true,
    description = {
      "Plans the board test for 'production' that tells good boards from bad at stated risks in"
          + " the least time on average. Nothing is touched.",
      "Ends with 7 where the risks cannot be held, and says what stands in the way."
    },
    footer = {
      "",
      "Examples:",
      "  millrace plan boards fx-3.datasheet.yaml --bench my.bench.yaml \\",
      "      --consumer-risk 0.1 %% -o board-test.yaml",
      "  millrace plan boards fx-3.datasheet.yaml --bench my.bench.yaml \\",
      "      --consumer-risk 0.1 %% --producer-risk 2 %% --batch B7 --like 12"
    })
public final class PlanBoardsCommand implements Callable<Integer> {
  private final Console console;

  @Spec private CommandSpec spec;

  @Parameters(paramLabel = "DATASHEET", description = "What boards promise.")
  private Path datasheet = Path.of("");

  @Option(
      names = "--consumer-risk",
      paramLabel = "SHARE",
      parameterConsumer = ShareWords.class,
      required = true,
      description =
          "At most so many of all boards may have a limit broken and pass, as '0.1 %%'; above 0"
              + " and below 50 %%.")
  private String consumer = "";

  @Option(
      names = "--producer-risk",
      paramLabel = "SHARE",
      parameterConsumer = ShareWords.class,
      description = "At most so many may have every limit met and fail; default 1 %%.")
  private String producer = "1 %";

  @Option(
      names = "--batch",
      paramLabel = "NAME",
      description =
          "A batch of the logbook, of 10 boards or more: how boards spread, and how readings"
              + " scatter. Default: the parts of the datasheet.")
  private Optional<String> batch = Optional.empty();

  @Option(
      names = "--tag",
      paramLabel = "NAME",
      description = "The same from all boards of a tag, as those of a practice shift.")
  private Optional<String> tag = Optional.empty();

  @Option(
      names = "--like",
      paramLabel = "RUN",
      description = {
        "A run of a unit of the same type: what a board test does not measure, such as temperature",
        "coefficients, is taken from it; without --batch also how readings scatter."
      })
  private Optional<String> like = Optional.empty();

  @Option(names = "-o", paramLabel = "FILE", description = "Writes the sequence there.")
  private Optional<Path> output = Optional.empty();

  @Option(names = "--json", description = "One JSON document on standard output.")
  private boolean json;

  @Option(
      names = "--logbook",
      paramLabel = "FILE",
      description = "Where the batch and the runs are kept; default millrace.db.")
  private Path logbook = Path.of("millrace.db");

  @Mixin private BenchFileOptions bench = new BenchFileOptions();

  /**
   * The command at a console.
   *
   * @param console its output
   */
  public PlanBoardsCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    bench.refuseNone(spec.commandLine());
    output.ifPresent(path -> AtomicFile.refuse(path, "-o"));
    Risks risks = new Risks(risk("--consumer-risk", consumer), risk("--producer-risk", producer));
    PlannedDatasheet promised = PlannedDatasheet.read(datasheet);
    BoardScope scope = scope(promised);
    byte[] content = bench.content();
    BenchFile file = BenchForms.read(bench.name(), content);
    Found found = found(promised.on(bench, content), scope, risks);
    output.ifPresent(
        path -> AtomicFile.write(path, "-o", out -> out.write(found.plan().test().sequence())));
    show(found, promised.promises(), file);
    return (found.plan().isHeld() ? ExitCode.DONE : ExitCode.INCOMPLETE).number();
  }

  /** A share may contain a space, at which a shell splits the word. */
  static final class ShareWords implements CommandLine.IParameterConsumer {
    @Override
    public void consumeParameters(Stack<String> words, ArgSpec option, CommandSpec command) {
      if (words.isEmpty()) {
        throw new CommandLine.MissingParameterException(
            command.commandLine(),
            option,
            "Missing required parameter for option '"
                + ((CommandLine.Model.OptionSpec) option).longestName()
                + "' (SHARE)");
      }
      String share = words.pop();
      boolean split = !words.isEmpty() && words.peek().equals("%");
      option.setValue(split ? share + " " + words.pop() : share);
    }
  }

  private double risk(String option, String text) {
    try {
      double risk = QuantityText.parse(text, Dimension.RATIO);
      if (Risks.isOne(risk)) {
        return risk;
      }
    } catch (QuantityException e) {
      // reported below, with the expected form
    }
    throw new CommandLine.ParameterException(
        spec.commandLine(),
        "%s '%s'; expected a share above 0 and below 50 %%, as '0.1 %%'".formatted(option, text));
  }

  private BoardScope scope(PlannedDatasheet promised) {
    promised.refuseWithoutCompliance(promised.promises().ranges().keySet());
    BoardScope scope = BoardScope.of(promised.promises());
    if (scope.ranges().isEmpty()) {
      throw new NotAnalysableException(
          datasheet
              + ": it states no limit that a board test can tell: on current, current error, load"
              + " regulation, output resistance or conductance, or compliance voltage. Add one"
              + " under 'limits'.");
    }
    return scope;
  }

  /**
   * The result of the search, and its basis.
   *
   * @param plan the plan
   * @param typeRun the type run, in words; empty without one
   * @param scatter the run whose scatter is used; empty for the stated or usual scatter
   */
  private record Found(BoardPlan plan, Optional<String> typeRun, Optional<Long> scatter) {}

  private Found found(ForecastNights.Fixed fixed, BoardScope scope, Risks risks) {
    Optional<UUID> stated = scope.datasheet().typeRun();
    boolean wanted = isMeasured() || like.isPresent();
    if (!wanted && (stated.isEmpty() || !Files.exists(logbook))) {
      return found(fixed, scope, risks, Optional.empty());
    }
    try (Logbook book = Logbook.readOnly(logbook)) {
      return found(fixed, scope, risks, Optional.of(book));
    }
  }

  private Found found(
      ForecastNights.Fixed fixed, BoardScope scope, Risks risks, Optional<Logbook> book) {
    Optional<RunReader> type = book.flatMap(b -> type(b, scope.datasheet()));
    List<MeasuredSpread> spread = isMeasured() ? spread(book.orElseThrow(), fixed) : List.of();
    Optional<RunReader> scatter =
        lastOf(spread).map(id -> book.orElseThrow().reader(id)).or(() -> type);
    try (SearchProgress progress = new SearchProgress(console)) {
      ForecastBoards forecaster = new ForecastBoards(fixed, scatter, type.map(Assessor::typeRun));
      BoardPlan plan =
          new BoardSearch(forecaster, spread, risks, progress::timeUp, progress::computed)
              .find(scope);
      return new Found(
          plan,
          type.map(
              r -> "run %s of unit %s".formatted(r.summary().id(), r.summary().start().unit())),
          scatter.map(r -> r.summary().id()));
    } catch (InstrumentException | InterlockException e) {
      throw new NotAnalysableException(
          "a board test on this bench cannot be computed: " + e.getMessage());
    }
  }

  private boolean isMeasured() {
    return batch.isPresent() || tag.isPresent();
  }

  private List<MeasuredSpread> spread(Logbook book, ForecastNights.Fixed fixed) {
    List<RunSummary> boards = book.runs(RunFilter.ALL.ofBatch(batch).ofTag(tag));
    Comparison compared = RunComparer.of(book, boards, false, UnitFactors.NONE);
    boolean simulated =
        BenchForms.read(fixed.benchName(), fixed.bench().getBytes(StandardCharsets.UTF_8))
            .simulated();
    if (compared.simulated() && !simulated) {
      throw new CommandLine.ParameterException(
          spec.commandLine(),
          "the boards of %s are simulated, and the bench is not; expected boards of a bench"
              .formatted(
                  batch.map(b -> "batch '" + b + "'").orElse("tag '" + tag.orElse("") + "'")));
    }
    return MeasuredSpread.of(book, compared.distributions());
  }

  private Optional<RunReader> type(Logbook book, Datasheet promised) {
    return like.map(name -> book.reader(book.find(name).id()))
        .or(
            () ->
                promised
                    .typeRun()
                    .flatMap(
                        uuid ->
                            book.runs(RunFilter.ALL).stream()
                                .filter(r -> r.uuid().equals(uuid))
                                .findFirst())
                    .map(r -> book.reader(r.id())));
  }

  /** The last board of a batch: the next one is expected to have the same scatter. */
  private static Optional<Long> lastOf(List<MeasuredSpread> spread) {
    return spread.stream()
        .flatMap(d -> d.distribution().entries().stream())
        .map(e -> e.run().run().id())
        .max(Long::compare);
  }

  private void show(Found found, Datasheet promised, BenchFile file) {
    if (json) {
      console.print(
          BoardPlanJson.of(
                  found.plan(),
                  new BoardPlanJson.About(
                      promised.name(), file.name(), file.simulated(), found.typeRun()))
              .toString());
      return;
    }
    BoardPlanTable table = new BoardPlanTable(found.plan());
    table.answer().forEach(console::print);
    console.print("");
    console.print(
        "%s, on bench '%s'%s"
            .formatted(promised.name(), file.name(), file.simulated() ? " (SIMULATED)" : ""));
    BenchVoltageSources.of(promised, file).caution().forEach(console::print);
    console.print("");
    console.table(table.limits());
    console.table(table.ranges());
    table.rest(found.typeRun(), found.scatter()).forEach(console::print);
    console.print(
        output
            .map(path -> "Written: " + path + ". 'millrace production' runs it.")
            .orElse("Nothing was written; -o FILE writes the sequence."));
  }
}
