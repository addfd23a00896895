// SPDX-License-Identifier: Apache-2.0
package millrace.cli.plan;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import millrace.analysis.causes.CauseStudy;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.RunCauseDiagnosis;
import millrace.assessment.basis.JudgementBasis;
import millrace.assessment.comparison.RunComparer;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.CommandToType;
import millrace.cli.option.LogbookOption;
import millrace.document.file.AtomicFile;
import millrace.document.yaml.YamlFile;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.NotAnalysableException;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import millrace.logbook.RunSummary;
import millrace.night.BenchVoltageSources;
import millrace.night.RunInputs;
import millrace.planning.cause.CausePlan;
import millrace.planning.cause.CauseScope;
import millrace.planning.cause.CauseSearch;
import millrace.report.json.CausePlanJson;
import millrace.report.table.CausePlanTable;
import millrace.run.soak.BenchSpeedsFromFile;
import millrace.sequence.Schedule;
import millrace.terminal.Console;
import millrace.time.Seeds;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Plans measurements that separate the causes of an error. */
@Command(
    name = "cause",
    mixinStandardHelpOptions = true,
    description = {
      "Says what to measure, in the least time, to tell apart the causes of a unit's errors that a"
          + " run left together, and how often the right one is named then. Nothing is touched.",
      "Several runs of one unit count together: after the planned measurement, name both.",
      "Ends with 7 where nothing tells all of them apart."
    },
    footer = {
      "",
      "Examples:",
      "  millrace plan cause 12 -o cause.yaml",
      "  millrace plan cause 12 13"
    })
public final class PlanCauseCommand implements Callable<Integer> {
  private static final long SEED = 9;

  private final Console console;

  @Parameters(
      arity = "1..*",
      paramLabel = "RUN",
      description = "Runs of one unit, by number or UUID.")
  private List<String> runs = new ArrayList<>();

  @Option(
      names = "--bench",
      paramLabel = "FILE",
      description = "Where it would be measured; the bench of the first run unless given.")
  private Optional<Path> bench = Optional.empty();

  @Option(names = "-o", paramLabel = "FILE", description = "Writes the sequence there.")
  private Optional<Path> output = Optional.empty();

  @Option(names = "--json", description = "One JSON document on standard output.")
  private boolean json;

  @Mixin private LogbookOption logbook = new LogbookOption();

  /**
   * The command at a console.
   *
   * @param console its output
   */
  public PlanCauseCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    output.ifPresent(path -> AtomicFile.refuse(path, "-o"));
    try (Logbook book = logbook.readOnly()) {
      List<RunSummary> named = runs.stream().map(book::find).distinct().toList();
      refuseOthers(named);
      List<Assessment> assessed =
          named.stream().map(r -> Assessor.assess(book.reader(r.id()))).toList();
      JudgementBasis basis = assessed.get(0).basis();
      BenchFile file = bench(basis, named.get(0));
      CausePlan plan = plan(book, assessed, file);
      output.ifPresent(path -> write(path, plan));
      show(plan, named, basis, file);
      return (done(plan) ? ExitCode.DONE : ExitCode.INCOMPLETE).number();
    }
  }

  private static boolean done(CausePlan plan) {
    return plan.identified().isPresent()
        || plan.rivals().isEmpty()
        || plan.chosen().filter(c -> c.together().isEmpty()).isPresent();
  }

  private static void refuseOthers(List<RunSummary> named) {
    RunSummary first = named.get(0);
    for (RunSummary other : named) {
      boolean sameKind =
          other.start().simulation().isPresent() == first.start().simulation().isPresent();
      if (!other.start().unit().equals(first.start().unit()) || !sameKind) {
        throw new BadInputException(
            new InputFault(
                FilePlace.of("run " + other.id()),
                sameKind
                    ? "it is of unit %s, and run %s of unit %s"
                        .formatted(other.start().unit(), first.id(), first.start().unit())
                    : "one of it and run %s is simulated, the other is real".formatted(first.id()),
                "runs of one unit",
                "Name runs of one unit only; 'millrace runs' lists them."));
      }
    }
  }

  private BenchFile bench(JudgementBasis basis, RunSummary first) {
    return bench
        .map(path -> BenchForms.read(path.toString(), YamlFile.bytes(path)))
        .or(basis::bench)
        .orElseThrow(
            () ->
                new NotAnalysableException(
                    "run %s was imported and names no bench. Give --bench FILE, where it would be measured."
                        .formatted(first.id())));
  }

  private CausePlan plan(Logbook book, List<Assessment> assessed, BenchFile file) {
    Assessment first = assessed.get(0);
    List<RunCauseDiagnosis.Joined> joined =
        assessed.stream()
            .map(
                a ->
                    new RunCauseDiagnosis.Joined(
                        a, RunComparer.sameInstrumentsInAnySetUp(book, first.run(), a.run())))
            .toList();
    CauseStudy study =
        RunCauseDiagnosis.evidence(joined)
            .flatMap(CauseStudy::of)
            .orElseThrow(
                () ->
                    new NotAnalysableException(
                        "no cause can be found of run %s: no range that it measured says in its datasheet what it is made from. Add 'parts' and 'made from' to the datasheet, then 'millrace analyze %s --datasheet FILE'."
                            .formatted(first.run().id(), first.run().id())));
    String sheet = sheet(book.reader(first.run().id()), first.basis());
    CauseScope scope = new CauseScope(first.basis().datasheet().orElseThrow(), file);
    return new CauseSearch(
            study,
            scope,
            "causes of run " + first.run().id(),
            sequence -> seconds(sequence, sheet, scope))
        .plan(new Seeds(SEED));
  }

  private static String sheet(RunReader reader, JudgementBasis basis) {
    return new String(
        reader.content(basis.datasheetSha256().orElseThrow()), StandardCharsets.UTF_8);
  }

  private static double seconds(String sequence, String sheet, CauseScope scope) {
    RunInputs inputs = RunInputs.of("cause.yaml", sequence, "datasheet", sheet);
    return Schedule.of(
            inputs.plan(scope.slot()), inputs.datasheet(), BenchSpeedsFromFile.of(scope.bench()))
        .partsS()
        .values()
        .stream()
        .mapToDouble(Double::doubleValue)
        .sum();
  }

  private static void write(Path path, CausePlan plan) {
    plan.chosen().ifPresent(c -> AtomicFile.write(path, "-o", out -> out.write(c.sequence())));
  }

  private void show(CausePlan plan, List<RunSummary> named, JudgementBasis basis, BenchFile file) {
    RunSummary first = named.get(0);
    boolean simulated = first.start().simulation().isPresent();
    if (json) {
      console.print(
          CausePlanJson.of(
                  plan,
                  named.stream().map(RunSummary::id).toList(),
                  first.start().unit(),
                  simulated)
              .toString());
      return;
    }
    String numbers =
        named.stream().map(r -> Long.toString(r.id())).collect(Collectors.joining(", "));
    console.print(
        "Causes of the errors of %s, run %s%s"
            .formatted(first.start().unit(), numbers, simulated ? " (SIMULATED)" : ""));
    console.print("");
    new CausePlanTable(plan).lines().forEach(console::print);
    if (plan.chosen().isPresent()) {
      BenchVoltageSources.of(basis.datasheet().orElseThrow(), file)
          .caution()
          .forEach(console::print);
      written(named);
    }
  }

  private void written(List<RunSummary> named) {
    if (output.isEmpty()) {
      console.print("Nothing was written; -o FILE writes the sequence.");
      return;
    }
    List<String> words =
        Stream.concat(Stream.of("plan", "cause"), named.stream().map(r -> Long.toString(r.id())))
            .collect(Collectors.toCollection(ArrayList::new));
    words.add("RUN");
    words.addAll(List.of("--logbook", CommandToType.path(logbook.path())));
    console.print(
        "Written: %s. Run it with this unit; then, RUN being the new run:".formatted(output.get()));
    console.print("  " + CommandToType.of(words));
  }
}
