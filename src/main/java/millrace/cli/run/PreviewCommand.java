// SPDX-License-Identifier: Apache-2.0
package millrace.cli.run;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.BenchFileOptions;
import millrace.cli.option.EarlierRunOptions;
import millrace.datasheet.Datasheet;
import millrace.evidence.PointConditions;
import millrace.fault.InstrumentException;
import millrace.fault.InterlockException;
import millrace.fault.NotAnalysableException;
import millrace.logbook.PlanChange;
import millrace.night.BenchCapabilityCheck;
import millrace.night.BenchLimitCheck;
import millrace.night.BenchVoltageSources;
import millrace.night.PreviewCautions;
import millrace.night.RunInputs;
import millrace.night.forecast.AdaptiveForecast;
import millrace.night.forecast.Earlier;
import millrace.night.forecast.ForecastRun;
import millrace.night.forecast.MeterNoise;
import millrace.planning.LimitForecast;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.quantity.TimeSpanSeconds;
import millrace.report.json.ForecastJson;
import millrace.report.table.ForecastTable;
import millrace.sequence.BenchSpeeds;
import millrace.sequence.ChangeCount;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Schedule;
import millrace.sequence.TemperatureOrderComparison;
import millrace.terminal.Console;
import millrace.terminal.Progress;
import millrace.time.SystemClock;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Shows the expected results of a run, its steps and its time; touches nothing. */
@Command(
    name = "preview",
    mixinStandardHelpOptions = true,
    description =
        "Shows which limits a run will decide on this bench and with what U, the points, their"
            + " order and the time they will take. Nothing is touched.",
    footer = {
      "",
      "Example:",
      "  millrace preview sequences/quick-look.yaml --simulated \\",
      "      --datasheet fx-3.datasheet.yaml",
      "  millrace preview sequences/short-night.yaml --bench my.bench.yaml \\",
      "      --datasheet fx-3.datasheet.yaml --like 12"
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
      names = "--quick",
      description =
          "Do not compute which limits will be decided; that takes about twice as"
              + " long as 'analyze'.")
  private boolean quick;

  @Mixin private EarlierRunOptions earlier = new EarlierRunOptions();

  @Option(
      names = "--adaptive",
      description =
          "As 'run --adaptive', or 'adaptive: yes' in the sequence: what the run is expected to"
              + " leave out, and how long it takes then.")
  private boolean adaptive;

  @Option(names = "--json", description = "One JSON document on standard output.")
  private boolean json;

  @Mixin private BenchFileOptions bench = new BenchFileOptions();

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public PreviewCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    bench.refuseNone(spec.commandLine());
    refuseWhatDoesNotGoTogether();
    RunInputs inputs = RunInputs.read(sequence, datasheet);
    byte[] content = bench.content();
    BenchFile file = BenchForms.read(bench.name(), content);
    Plan plan = inputs.plan(List.copyOf(file.slots().keySet()));
    BenchCapabilityCheck.check(plan, inputs.datasheet(), file);
    BenchSpeeds benchSpeeds = earlier.earlier(file.lineFrequencyHz()).speeds(file);
    Schedule schedule = Schedule.of(plan, inputs.datasheet(), benchSpeeds);
    Optional<ForecastRun.Order> order =
        quick ? Optional.empty() : Optional.of(order(inputs, content));
    if (json) {
      Forecast forecast = order.map(o -> forecast(o, file)).orElse(Forecast.NONE);
      ForecastJson.Previewed what =
          new ForecastJson.Previewed(
              plan.title(),
              file.name(),
              file.simulated(),
              plan.points().size(),
              TimeSpanSeconds.seconds(schedule.total()));
      Optional<ForecastJson.Adaptive> looksAgain =
          isAdaptive(inputs)
              ? Optional.of(
                  new ForecastJson.Adaptive(
                      expected(forecast, plan, inputs, benchSpeeds)
                          .map(s -> TimeSpanSeconds.seconds(s.total())),
                      forecast.changes().stream().map(PlanChange::inOneLine).toList()))
              : Optional.empty();
      console.print(
          ForecastJson.of(what, forecast.limits(), forecast.missing(), looksAgain).toString());
      return ExitCode.DONE.number();
    }
    console.print(
        "%s, on bench '%s'%s"
            .formatted(plan.title(), file.name(), file.simulated() ? " (SIMULATED)" : ""));
    cautions(plan, inputs.datasheet(), file);
    if (!quick && console.interactive()) {
      console.error("Computing this run; --quick leaves it out.");
    }
    Forecast forecast = order.map(o -> forecast(o, file)).orElse(Forecast.NONE);
    if (!quick) {
      show(forecast, file);
    }
    if (isAdaptive(inputs)) {
      adaptive(forecast, schedule, expected(forecast, plan, inputs, benchSpeeds));
    }
    times(
        plan, schedule, file, TemperatureOrderComparison.of(plan, inputs.datasheet(), benchSpeeds));
    PreviewCautions.warmUp(inputs.datasheet(), file).ifPresent(console::print);
    PreviewCautions.of(plan, schedule, file, earlier.logbook()).forEach(console::print);
    PreviewCautions.slowNoise(plan, schedule, earlier.logbook()).ifPresent(console::print);
    if (!plan.stays().isEmpty()) {
      console.print(
          "A chamber will be hot or cold with nobody there: it needs its own independent cut-out.");
    }
    points(plan, schedule);
    return ExitCode.DONE.number();
  }

  private boolean isAdaptive(RunInputs inputs) {
    return adaptive || inputs.loaded().sequence().adaptive();
  }

  /** The expected time of the rest of a plan; empty if it was not computed. */
  private Optional<Schedule> expected(
      Forecast forecast, Plan plan, RunInputs inputs, BenchSpeeds speeds) {
    return quick || forecast.missing().isPresent()
        ? Optional.empty()
        : Optional.of(
            Schedule.of(
                AdaptiveForecast.expected(plan, forecast.changes()), inputs.datasheet(), speeds));
  }

  private void adaptive(Forecast forecast, Schedule longest, Optional<Schedule> expected) {
    console.print("");
    console.print(
        expected
            .map(
                s ->
                    "Adaptive stopping: about %s if the unit is as expected, at most about %s."
                        .formatted(Progress.span(s.total()), Progress.span(longest.total())))
            .orElseGet(
                () ->
                    "Adaptive stopping: at most about %s; how much of it is expected was not computed."
                        .formatted(Progress.span(longest.total()))));
    under(
        "What it is expected to change:",
        forecast.changes().stream()
            .map(c -> "%s %s; %s".formatted(c.kind().text(), c.words(), c.reason()))
            .toList());
    console.print(
        "What follows, and the points, are of the whole plan, from which it leaves out what is"
            + " decided.");
  }

  private void refuseWhatDoesNotGoTogether() {
    if (quick && earlier.run().isPresent()) {
      throw new CommandLine.ParameterException(
          spec.commandLine(), "--like with --quick; expected one of them: --quick computes no run");
    }
    if (json && all) {
      throw new CommandLine.ParameterException(
          spec.commandLine(), "--all with --json; expected one of them: --json lists no points");
    }
  }

  private ForecastRun.Order order(RunInputs inputs, byte[] content) {
    return new ForecastRun.Order(
        inputs,
        bench.name(),
        new String(content, StandardCharsets.UTF_8),
        bench.drivers(),
        new SystemClock().now());
  }

  private ForecastRun.Computed computed(ForecastRun.Order order, BenchFile file) {
    Earlier expected = earlier.earlier(file.lineFrequencyHz());
    return isAdaptive(order.inputs())
        ? AdaptiveForecast.of(order, expected).computed()
        : ForecastRun.of(order, expected);
  }

  /**
   * The forecast of the run.
   *
   * @param limits each limit
   * @param flagged the reasons why points would be flagged, with the number of the first
   * @param notes of the computed run
   * @param changes the changes of its plan, where it revises the plan
   * @param missing the reason why nothing could be computed; empty otherwise
   */
  private record Forecast(
      List<LimitForecast> limits,
      Map<String, String> flagged,
      List<String> notes,
      List<PlanChange> changes,
      Optional<String> missing) {
    private static final Forecast NONE = missing(Optional.empty());

    private static Forecast missing(Optional<String> why) {
      return new Forecast(List.of(), Map.of(), List.of(), List.of(), why);
    }
  }

  private Forecast forecast(ForecastRun.Order order, BenchFile file) {
    try {
      ForecastRun.Computed computed = computed(order, file);
      return new Forecast(
          LimitForecast.of(computed.results(), file),
          computed.flagged(),
          computed.notes(),
          computed.changes(),
          Optional.empty());
    } catch (InstrumentException | InterlockException | NotAnalysableException e) {
      return Forecast.missing(Optional.ofNullable(e.getMessage()));
    }
  }

  private void show(Forecast forecast, BenchFile file) {
    console.print("");
    if (forecast.missing().isPresent()) {
      console.print(
          "What this run will be able to say cannot be computed: " + forecast.missing().get());
      return;
    }
    limits(forecast.limits(), file);
    if (!forecast.flagged().isEmpty()) {
      console.print("Points that would be flagged even with a unit as expected:");
      forecast.flagged().forEach((why, p) -> console.print("  point %s: %s".formatted(p, why)));
    }
    if (!forecast.limits().stream().allMatch(LimitForecast::isDecided)) {
      forecast.notes().forEach(note -> console.print("Note: " + note + "."));
    }
  }

  private void limits(List<LimitForecast> limits, BenchFile file) {
    console.print(ForecastTable.answer(limits));
    under("U too large:", ForecastTable.tooWide(limits));
    under("Not evaluated:", ForecastTable.wanting(limits));
    console.print("");
    console.table(ForecastTable.table(limits));
    under("Largest part of U:", ForecastTable.largestParts(limits));
    console.print("");
    console.print(ForecastTable.expected(earlier.run(), MeterNoise.unstated(file)));
  }

  /** Dangers come before everything else. */
  private void cautions(Plan plan, Datasheet sheet, BenchFile file) {
    BenchVoltageSources voltages = BenchVoltageSources.of(plan, sheet, file);
    voltages.caution().forEach(console::print);
    if (!voltages.dangerous().isEmpty()) {
      console.print(
          "The run asks for a 'yes' to this at the terminal, or for --confirm-above-60V.");
    }
    BenchLimitCheck.warnings(plan, voltages, file).forEach(console::print);
  }

  private void under(String head, List<String> lines) {
    if (!lines.isEmpty()) {
      console.print(head);
      lines.forEach(line -> console.print("  " + line));
    }
  }

  private void points(Plan plan, Schedule schedule) {
    int shown = all ? plan.points().size() : Math.min(SHOWN, plan.points().size());
    console.print("");
    console.print(
        "%6s  %-16s %-10s %-10s %-12s %-5s %s"
            .formatted("point", "what", "range", "temp.", "load", "sweep", "time left"));
    for (PlannedPoint p : plan.points().subList(0, shown)) {
      console.print(row(p, schedule.leftFrom(p)));
    }
    if (shown < plan.points().size()) {
      console.print(
          "   ... and %s more; --all shows them.".formatted(plan.points().size() - shown));
    }
  }

  private static String row(PlannedPoint p, Duration left) {
    PointConditions c = p.conditions();
    String what = p.task().word().isEmpty() ? "measure" : p.task().word();
    return "%6s  %-16s %-10s %-10s %-12s %-5s %s"
        .formatted(
            p.number(),
            what,
            c.range().orElse(""),
            c.temperatureDegC().isPresent()
                ? QuantityText.print(c.temperatureDegC().getAsDouble(), Dimension.TEMPERATURE, 4)
                : "",
            c.loadOhm().isPresent()
                ? QuantityText.print(c.loadOhm().getAsDouble(), Dimension.RESISTANCE, 4)
                : "",
            c.direction().map(d -> d.text()).orElse(""),
            Progress.span(left));
  }

  private void times(
      Plan plan, Schedule schedule, BenchFile file, List<TemperatureOrderComparison.Order> orders) {
    Map<String, Double> parts = new LinkedHashMap<>(schedule.partsS());
    console.print("");
    console.print(
        "%s points, about %s:".formatted(plan.points().size(), Progress.span(schedule.total())));
    parts.forEach((part, s) -> console.print("  %-10s %s".formatted(part, span(s))));
    if (plan.points().stream().anyMatch(p -> p.rules().settle().withinRatio().isPresent())) {
      console.print(ForecastTable.settling(earlier.run(), MeterNoise.unstated(file)));
    }
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
        temperatures.stream().map(t -> QuantityText.print(t, Dimension.TEMPERATURE, 4)).toList());
  }

  private static String span(double seconds) {
    return Progress.span(TimeSpanSeconds.ofSeconds(seconds));
  }
}
