// SPDX-License-Identifier: Apache-2.0
package millrace.cli.run;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.BenchOptions;
import millrace.datasheet.Datasheet;
import millrace.document.yaml.YamlFile;
import millrace.evidence.Conditions;
import millrace.night.BenchAllows;
import millrace.night.BenchNeeds;
import millrace.night.PreviewCautions;
import millrace.night.RunInputs;
import millrace.night.Simulation;
import millrace.night.Voltages;
import millrace.quantity.Dimension;
import millrace.quantity.Quantities;
import millrace.quantity.Spans;
import millrace.run.soak.BenchPace;
import millrace.sequence.ChangeCount;
import millrace.sequence.Pace;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Schedule;
import millrace.sequence.TemperatureOrders;
import millrace.terminal.Console;
import millrace.terminal.Progress;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Shows what a sequence would do, and how long it takes; touches nothing. */
@Command(
    name = "preview",
    mixinStandardHelpOptions = true,
    description =
        "Shows the points of a sequence, their order and the time they will take. Nothing"
            + " is touched.",
    footer = {
      "",
      "Example:",
      "  millrace preview sequences/quick-look.yaml --simulated \\",
      "      --datasheet fx-3.datasheet.yaml"
    })
public final class PreviewCommand implements Callable<Integer> {
  private static final int SHOWN = 20;

  private final Console console;

  @Spec private CommandSpec spec;

  @Parameters(paramLabel = "SEQUENCE", description = "What would be done.")
  private Path sequence = Path.of("");

  @Option(
      names = "--datasheet",
      paramLabel = "FILE",
      required = true,
      description = "What the unit promises.")
  private Path datasheet = Path.of("");

  @Option(names = "--all", description = "Show every point, not only the first " + SHOWN + ".")
  private boolean all;

  @Option(
      names = "--logbook",
      paramLabel = "FILE",
      description =
          "Where the run would be kept; tells the room on its disk, and which records of slow noise"
              + " there are.")
  private Path logbook = Path.of("millrace.db");

  @Mixin private BenchOptions bench = new BenchOptions();

  /**
   * The command at a console.
   *
   * @param console where it prints and asks
   */
  public PreviewCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    bench.refuseNone(spec.commandLine());
    RunInputs inputs = RunInputs.read(sequence, datasheet);
    BenchFile file = benchFile();
    Plan plan = inputs.plan(List.copyOf(file.slots().keySet()));
    BenchNeeds.check(plan, inputs.datasheet(), file);
    Pace pace = BenchPace.of(file);
    Schedule schedule = Schedule.of(plan, inputs.datasheet(), pace);
    console.print(
        "%s, on bench '%s'%s"
            .formatted(plan.title(), file.name(), file.simulated() ? " (SIMULATED)" : ""));
    cautions(plan, inputs.datasheet(), file);
    points(plan, schedule);
    times(plan, schedule, TemperatureOrders.of(plan, inputs.datasheet(), pace));
    PreviewCautions.warmUp(inputs.datasheet(), file).ifPresent(console::print);
    PreviewCautions.of(plan, schedule, file, logbook).forEach(console::print);
    PreviewCautions.slowNoise(plan, schedule, logbook).ifPresent(console::print);
    if (!plan.stays().isEmpty()) {
      console.print(
          "A chamber will be hot or cold with nobody there: it needs its own independent cut-out.");
    }
    return ExitCode.DONE.number();
  }

  /** What can hurt stands before everything else. */
  private void cautions(Plan plan, Datasheet sheet, BenchFile file) {
    Voltages voltages = Voltages.of(plan, sheet, file);
    voltages.caution().forEach(console::print);
    if (!voltages.dangerous().isEmpty()) {
      console.print(
          "The run asks for a 'yes' to this at the terminal, or for --confirm-above-60V.");
    }
    BenchAllows.warnings(plan, voltages, file).forEach(console::print);
  }

  private BenchFile benchFile() {
    if (bench.simulated()) {
      return BenchForms.read(
          Simulation.NAME, Simulation.anyPorts().getBytes(StandardCharsets.UTF_8));
    }
    Path path = bench.file().orElseThrow();
    return BenchForms.read(path.toString(), YamlFile.bytes(path));
  }

  private void points(Plan plan, Schedule schedule) {
    int shown = all ? plan.points().size() : Math.min(SHOWN, plan.points().size());
    console.print("");
    console.print(
        "%6s  %-16s %-10s %-10s %-12s %-5s %s"
            .formatted("point", "what", "range", "temp.", "load", "sweep", "time to the end"));
    for (PlannedPoint p : plan.points().subList(0, shown)) {
      console.print(row(p, schedule.leftFrom(p)));
    }
    if (shown < plan.points().size()) {
      console.print(
          "   ... and %s more; --all shows them.".formatted(plan.points().size() - shown));
    }
  }

  private static String row(PlannedPoint p, Duration left) {
    Conditions c = p.conditions();
    String what = p.task().word().isEmpty() ? "measure" : p.task().word();
    return "%6s  %-16s %-10s %-10s %-12s %-5s %s"
        .formatted(
            p.number(),
            what,
            c.range().orElse(""),
            c.temperatureDegC().isPresent()
                ? Quantities.print(c.temperatureDegC().getAsDouble(), Dimension.TEMPERATURE, 4)
                : "",
            c.loadOhm().isPresent()
                ? Quantities.print(c.loadOhm().getAsDouble(), Dimension.RESISTANCE, 4)
                : "",
            c.direction().map(d -> d.text()).orElse(""),
            Progress.span(left));
  }

  private void times(Plan plan, Schedule schedule, List<TemperatureOrders.Order> orders) {
    Map<String, Double> parts = new LinkedHashMap<>(schedule.partsS());
    console.print("");
    console.print(
        "%s points, about %s:".formatted(plan.points().size(), Progress.span(schedule.total())));
    parts.forEach((part, s) -> console.print("  %-10s %s".formatted(part, span(s))));
    if (!plan.stays().isEmpty()) {
      console.print("Temperatures in order: " + degrees(plan.stays()));
    }
    console.print(changes(ChangeCount.of(plan)));
    if (!orders.isEmpty()) {
      console.print("Moves and soaks, and what they would be in other orders:");
    }
    orders.forEach(
        o ->
            console.print(
                "  %-40s %-9s %s"
                    .formatted(o.what(), span(o.seconds()), degrees(o.temperatureDegC()))));
  }

  private static String changes(ChangeCount c) {
    String fewer =
        c.leastRanges() < c.ranges()
            ? " (%s would do: name ranges outside slots, and what is done in them together)"
                .formatted(c.leastRanges())
            : "";
    return "Changes: %s of temperature, %s of unit, %s of range%s"
        .formatted(c.temperatures(), c.slots(), c.ranges(), fewer);
  }

  private static String degrees(List<Double> temperatures) {
    return String.join(
        ", ",
        temperatures.stream().map(t -> Quantities.print(t, Dimension.TEMPERATURE, 4)).toList());
  }

  private static String span(double seconds) {
    return Progress.span(Spans.ofSeconds(seconds));
  }
}
