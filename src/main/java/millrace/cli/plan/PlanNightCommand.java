// SPDX-License-Identifier: Apache-2.0
package millrace.cli.plan;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.Callable;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.BenchFileOptions;
import millrace.cli.option.EarlierRunOptions;
import millrace.datasheet.Datasheet;
import millrace.document.file.AtomicFile;
import millrace.fault.InstrumentException;
import millrace.fault.InterlockException;
import millrace.fault.NotAnalysableException;
import millrace.night.BenchVoltageSources;
import millrace.night.RunInputs;
import millrace.night.forecast.Earlier;
import millrace.night.forecast.ForecastNights;
import millrace.night.forecast.MeterNoise;
import millrace.planning.LimitForecast;
import millrace.planning.night.NightPlan;
import millrace.planning.night.NightScope;
import millrace.planning.night.NightSearch;
import millrace.report.chart.NightCurveChart;
import millrace.report.json.NightPlanJson;
import millrace.report.table.ForecastTable;
import millrace.report.table.NightPlanTable;
import millrace.terminal.Console;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Plans a night: the limits that this bench can decide, and the fewest hours for them. */
@Command(
    name = "night",
    mixinStandardHelpOptions = true,
    description = {
      "Plans the night that decides every limit of a datasheet on this bench in the fewest hours,"
          + " or the best that given hours allow. Nothing is touched.",
      "Ends with 7 where a limit cannot be decided, and says what stands in the way."
    },
    footer = {
      "",
      "Examples:",
      "  millrace plan night fx-3.datasheet.yaml --bench my.bench.yaml --shortest \\",
      "      -o night.yaml",
      "  millrace plan night fx-3.datasheet.yaml --bench my.bench.yaml --hours 8 \\",
      "      --like 12 --picture hours.svg"
    })
public final class PlanNightCommand implements Callable<Integer> {
  private static final double LONGEST_H = 1000;

  private final Console console;

  @Spec private CommandSpec spec;

  @Parameters(paramLabel = "DATASHEET", description = "Whose limits are to be decided.")
  private Path datasheet = Path.of("");

  @Option(names = "--shortest", description = "The fewest hours that decide what can be decided.")
  private boolean shortest;

  @Option(
      names = "--hours",
      paramLabel = "H",
      description = "The smallest uncertainties that a night of so many hours allows.")
  private Optional<Double> hours = Optional.empty();

  @Option(
      names = "--as-good-as",
      paramLabel = "SEQUENCE",
      description = {
        "No U more than 5 %% larger than this sequence comes to, instead of a quarter of the",
        "tolerance; a U below a twentieth of what decides its limit is small enough."
      })
  private Optional<Path> other = Optional.empty();

  @Mixin private EarlierRunOptions earlier = new EarlierRunOptions();

  @Option(
      names = "--slots",
      paramLabel = "N",
      description = "How many units share the chamber; default every slot of the bench.")
  private Optional<Integer> slots = Optional.empty();

  @Option(names = "-o", paramLabel = "FILE", description = "Writes the sequence there.")
  private Optional<Path> output = Optional.empty();

  @Option(
      names = "--picture",
      paramLabel = "FILE",
      description = "Writes a curve there, as SVG: what more or fewer hours would bring.")
  private Optional<Path> picture = Optional.empty();

  @Option(names = "--json", description = "One JSON document on standard output.")
  private boolean json;

  @Mixin private BenchFileOptions bench = new BenchFileOptions();

  /**
   * The command at a console.
   *
   * @param console its output
   */
  public PlanNightCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    bench.refuseNone(spec.commandLine());
    refuseOtherThanOneLength();
    output.ifPresent(path -> AtomicFile.refuse(path, "-o"));
    picture.ifPresent(path -> AtomicFile.refuse(path, "--picture"));
    PlannedDatasheet promised = PlannedDatasheet.read(datasheet);
    promised.refuseWithoutLimits();
    byte[] content = bench.content();
    BenchFile file = BenchForms.read(bench.name(), content);
    NightScope scope = NightScope.of(promised.promises(), file, filled(file));
    promised.refuseWithoutCompliance(scope.ranges());
    NightPlan plan = found(promised.on(bench, content), scope, file);
    output.ifPresent(
        path -> AtomicFile.write(path, "-o", out -> out.write(plan.night().sequence())));
    picture.ifPresent(
        path ->
            AtomicFile.write(
                path,
                "--picture",
                out -> out.write(NightCurveChart.of(plan, file.simulated()).asFile())));
    show(plan, promised.promises(), file);
    return (plan.undecidable().isEmpty() && plan.night().decided() == plan.night().limits().size()
            ? ExitCode.DONE
            : ExitCode.INCOMPLETE)
        .number();
  }

  private void refuseOtherThanOneLength() {
    if (hours.isPresent() == shortest) {
      throw usage(
          (shortest ? "--hours with --shortest" : "no length")
              + "; expected either --hours H or --shortest");
    }
    if (hours.isPresent() && !(hours.get() > 0 && hours.get() <= LONGEST_H)) {
      throw usage("--hours %s is outside (0, 1000]; expected hours, as 8".formatted(hours.get()));
    }
  }

  private CommandLine.ParameterException usage(String why) {
    return new CommandLine.ParameterException(spec.commandLine(), why);
  }

  private List<String> filled(BenchFile file) {
    List<String> all = List.copyOf(file.slots().keySet());
    if (slots.isEmpty()) {
      return List.of();
    }
    int most = Math.max(1, all.size());
    if (slots.get() < 1 || slots.get() > most) {
      throw usage(
          "--slots %s; expected 1 to %s, as bench '%s' has"
              .formatted(slots.get(), most, file.name()));
    }
    return slots.get() < all.size() ? all.subList(0, slots.get()) : List.of();
  }

  private NightPlan found(ForecastNights.Fixed fixed, NightScope scope, BenchFile file) {
    Earlier like = earlier.earlier(file.lineFrequencyHz());
    try (SearchProgress progress = new SearchProgress(console)) {
      return found(new ForecastNights(fixed, scope.slots(), like), scope, progress);
    } catch (InstrumentException | InterlockException e) {
      throw new NotAnalysableException(
          "a night on this bench cannot be computed: " + e.getMessage());
    }
  }

  private NightPlan found(ForecastNights nights, NightScope scope, SearchProgress progress) {
    OptionalDouble most =
        hours.isPresent() ? OptionalDouble.of(hours.get()) : OptionalDouble.empty();
    List<LimitForecast> asGoodAs =
        other.map(path -> nights.limits(RunInputs.read(path, datasheet))).orElse(List.of());
    return new NightSearch(nights, progress::timeSpent, progress::computed)
        .find(scope, most, asGoodAs);
  }

  private void show(NightPlan plan, Datasheet promised, BenchFile file) {
    if (json) {
      console.print(
          NightPlanJson.of(plan, promised.name(), file.name(), file.simulated()).toString());
      return;
    }
    NightPlanTable table = new NightPlanTable(plan, hours);
    table.answer().forEach(console::print);
    console.print("");
    console.print(
        "%s, on bench '%s'%s"
            .formatted(promised.name(), file.name(), file.simulated() ? " (SIMULATED)" : ""));
    BenchVoltageSources.of(promised, file).caution().forEach(console::print);
    console.print("");
    console.table(table.limits());
    table.rest().forEach(console::print);
    console.print(ForecastTable.expected(earlier.run(), MeterNoise.unstated(file)));
    if (plan.night().design().temperatures().size() > 1) {
      console.print(
          "A chamber will be hot or cold with nobody there: it needs its own independent cut-out.");
    }
    console.print(
        output
            .map(path -> "Written: " + path + ". 'millrace preview' shows it point by point.")
            .orElse("Nothing was written; -o FILE writes the sequence."));
    picture.ifPresent(path -> console.print("Written: " + path + "."));
  }
}
