// SPDX-License-Identifier: Apache-2.0
package millrace.cli.plan;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.bench.driver.Drivers;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.EarlierRunOptions;
import millrace.cli.option.InstallationFolder;
import millrace.datasheet.Datasheet;
import millrace.document.file.AtomicFile;
import millrace.document.yaml.YamlFile;
import millrace.fault.InstrumentException;
import millrace.fault.InterlockException;
import millrace.fault.NotAnalysableException;
import millrace.night.BenchCapabilityCheck;
import millrace.night.RunInputs;
import millrace.night.SimulatedBenchSession;
import millrace.night.forecast.ForecastAccuracies;
import millrace.night.forecast.ForecastRun;
import millrace.planning.LimitForecast;
import millrace.planning.meters.AccuracySearch;
import millrace.planning.meters.MetersPlan;
import millrace.planning.night.NightScope;
import millrace.planning.night.NightSearch;
import millrace.report.chart.MetersPlanChart;
import millrace.report.json.MetersPlanJson;
import millrace.report.table.MetersPlanTable;
import millrace.terminal.Console;
import millrace.time.SystemClock;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Finds the accuracy that meters need. */
@Command(
    name = "meters",
    mixinStandardHelpOptions = true,
    description = {
      "Says how accurate each instrument has to be so that every limit of a datasheet is decided,"
          + " range by range: a table to buy or borrow by. Nothing is touched.",
      "With --bench it says which of your own instruments are good enough, and which limits each"
          + " leaves open. Ends with 7 where a limit is left open."
    },
    footer = {
      "",
      "Examples:",
      "  millrace plan meters fx-3.datasheet.yaml",
      "  millrace plan meters fx-3.datasheet.yaml --bench my.bench.yaml \\",
      "      --picture meters.svg"
    })
public final class PlanMetersCommand implements Callable<Integer> {
  private final Console console;

  @Parameters(paramLabel = "DATASHEET", description = "Whose limits are to be decided.")
  private Path datasheet = Path.of("");

  @Option(
      names = "--bench",
      paramLabel = "FILE",
      description = "Your instruments; without, those of a usual bench give the proportions.")
  private Optional<Path> bench = Optional.empty();

  @Option(
      names = "--drivers",
      paramLabel = "FOLDER",
      description = "The folder of drivers; the one beside the program unless given.")
  private Optional<Path> folder = Optional.empty();

  @Mixin private EarlierRunOptions earlier = new EarlierRunOptions();

  @Option(
      names = "--picture",
      paramLabel = "FILE",
      description = "Writes a chart there, as SVG: what is needed against what is stated.")
  private Optional<Path> picture = Optional.empty();

  @Option(names = "--json", description = "One JSON document on standard output.")
  private boolean json;

  /**
   * The command at a console.
   *
   * @param console its output
   */
  public PlanMetersCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    picture.ifPresent(path -> AtomicFile.refuse(path, "--picture"));
    PlannedDatasheet promised = PlannedDatasheet.read(datasheet);
    promised.refuseWithoutLimits();
    String name = bench.map(Path::toString).orElse(SimulatedBenchSession.NAME);
    String content =
        bench
            .map(path -> new String(YamlFile.bytes(path), StandardCharsets.UTF_8))
            .orElseGet(SimulatedBenchSession::anyPorts);
    BenchFile file = BenchForms.read(name, content.getBytes(StandardCharsets.UTF_8));
    NightScope scope = NightScope.of(promised.promises(), file, List.of());
    promised.refuseWithoutCompliance(scope.ranges());
    RunInputs inputs =
        RunInputs.of(
            "planned.yaml", NightSearch.richest(scope), datasheet.toString(), promised.text());
    Drivers drivers = Drivers.load(folder.orElseGet(() -> InstallationFolder.path("drivers")));
    MetersPlan plan =
        plan(new ForecastRun.Order(inputs, name, content, drivers, new SystemClock().now()), file);
    boolean drawn = picture.isPresent() && !plan.needs().isEmpty();
    if (drawn) {
      String svg = MetersPlanChart.of(plan, bench.isPresent() && file.simulated()).asFile();
      AtomicFile.write(picture.orElseThrow(), "--picture", out -> out.write(svg));
    }
    show(plan, promised.promises(), file);
    return (isDone(plan) ? ExitCode.DONE : ExitCode.INCOMPLETE).number();
  }

  private MetersPlan plan(ForecastRun.Order order, BenchFile file) {
    BenchCapabilityCheck.check(
        order.inputs().plan(List.copyOf(file.slots().keySet())), order.inputs().datasheet(), file);
    console.error("Computing runs with instruments of other accuracy; a minute or two.");
    try {
      return ForecastAccuracies.of(
          order,
          earlier.earlier(file.lineFrequencyHz()),
          forecaster -> new AccuracySearch(forecaster, file).plan(bench.map(path -> file)));
    } catch (InstrumentException | InterlockException e) {
      throw new NotAnalysableException(
          "a night on this bench cannot be computed: " + e.getMessage());
    }
  }

  private static boolean isDone(MetersPlan plan) {
    List<LimitForecast> open = plan.own().map(MetersPlan.Own::limits).orElse(plan.limits());
    return open.stream().allMatch(LimitForecast::isDecided);
  }

  private void show(MetersPlan plan, Datasheet promised, BenchFile file) {
    if (json) {
      console.print(MetersPlanJson.of(plan, promised, bench.map(path -> file.name())).toString());
      return;
    }
    MetersPlanTable table = new MetersPlanTable(plan, promised);
    table.answer().forEach(console::print);
    console.print("");
    console.print(
        promised.name() + bench.map(path -> ", on bench '" + file.name() + "'").orElse(""));
    if (!plan.needs().isEmpty()) {
      console.print("");
      console.table(table.needs());
    }
    table.rest().forEach(console::print);
    picture.ifPresent(
        path ->
            console.print(
                plan.needs().isEmpty()
                    ? "No picture is written: no part of an instrument is needed."
                    : "Written: " + path + "."));
  }
}
