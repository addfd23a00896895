// SPDX-License-Identifier: Apache-2.0
package millrace.cli.run;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.concurrent.Callable;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.LogbookOption;
import millrace.evidence.Incident;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.logbook.Logbook;
import millrace.logbook.NightRuns;
import millrace.logbook.PlanChange;
import millrace.logbook.RunFilter;
import millrace.logbook.RunReader;
import millrace.logbook.RunState;
import millrace.logbook.RunSummary;
import millrace.logbook.StepEntry;
import millrace.night.CrashedRunEnding;
import millrace.night.StoredRunPlan;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityException;
import millrace.quantity.QuantityText;
import millrace.run.control.RunRequestFile;
import millrace.run.journal.ResumeState;
import millrace.run.soak.SoakProgress;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;
import millrace.terminal.Console;
import millrace.terminal.Progress;
import picocli.CommandLine;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Shows a run that another terminal has started, and sends it requests. */
@Command(
    name = "status",
    mixinStandardHelpOptions = true,
    sortOptions = false,
    description = {
      "Shows the progress of a run in another process, from its logbook: point, time left, the"
          + " last result, incidents. The run is not disturbed.",
      "A request is carried out before its next point or during a soak, and noted in the"
          + " logbook."
    },
    footer = {"", "Example:", "  millrace status --logbook night.db"})
public final class StatusCommand implements Callable<Integer> {
  private static final int LAST_INCIDENTS = 5;

  private final Console console;

  @Spec private CommandSpec spec;

  @Parameters(
      arity = "0..1",
      paramLabel = "RUN",
      description = "A run, by number or UUID; the newest that is not complete unless given.")
  private Optional<String> name = Optional.empty();

  @Mixin private LogbookOption logbook = new LogbookOption();

  @ArgGroup private Asked asked = new Asked();

  @Option(
      names = "--because",
      paramLabel = "TEXT",
      description =
          "Why, for the logbook; with --skip-temperature and --add-temperature, which change the"
              + " plan.")
  private Optional<String> because = Optional.empty();

  /** One of them at most. */
  private static final class Asked {
    @Option(names = "--pause", description = "Take no further point for now.")
    private boolean pause;

    @Option(names = "--continue", description = "Go on after a pause.")
    private boolean goOn;

    @Option(names = "--skip-temperature", description = "Leave out the rest at this temperature.")
    private boolean skip;

    @Option(names = "--stop", description = "End the run at once; the bench is made safe first.")
    private boolean stop;

    @Option(
        names = "--add-temperature",
        paramLabel = "TEMPERATURE",
        description =
            "Repeat at one more temperature, as in '45 degC', all that is done at the present one,"
                + " after it.")
    private Optional<String> added = Optional.empty();

    private boolean changesThePlan() {
      return skip || added.isPresent();
    }

    Optional<RunRequestFile.Asked> request(RunRequestFile.Asker by) {
      if (added.isPresent()) {
        return Optional.of(
            new RunRequestFile.Asked(
                RunRequestFile.Request.ADD_TEMPERATURE, OptionalDouble.of(degC(added.get())), by));
      }
      if (stop) {
        return plain(RunRequestFile.Request.STOP, by);
      }
      return pause
          ? plain(RunRequestFile.Request.PAUSE, by)
          : goOn
              ? plain(RunRequestFile.Request.CONTINUE, by)
              : skip ? plain(RunRequestFile.Request.SKIP_TEMPERATURE, by) : Optional.empty();
    }

    private static Optional<RunRequestFile.Asked> plain(
        RunRequestFile.Request request, RunRequestFile.Asker by) {
      return Optional.of(new RunRequestFile.Asked(request, OptionalDouble.empty(), by));
    }

    private static double degC(String text) {
      try {
        return QuantityText.parse(text, Dimension.TEMPERATURE);
      } catch (QuantityException e) {
        throw new BadInputException(e.at(FilePlace.of("--add-temperature")));
      }
    }
  }

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public StatusCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    if (because.isPresent() && !asked.changesThePlan()) {
      throw new CommandLine.ParameterException(
          spec.commandLine(), "--because goes with --skip-temperature or --add-temperature");
    }
    try (Logbook book = logbook.readOnly()) {
      RunSummary summary = name.map(book::find).orElseGet(() -> newest(book));
      CrashedRunEnding.of(book, summary, book.reader(summary.id())).ifPresent(console::print);
      show(summary, book.reader(summary.id()), book.isBeingWritten(summary.id()));
      RunRequestFile.Asker by =
          new RunRequestFile.Asker(System.getProperty("user.name", ""), because.orElse(""));
      asked.request(by).ifPresent(request -> ask(request, summary, book));
    }
    return ExitCode.DONE.number();
  }

  private RunSummary newest(Logbook book) {
    return book.runs(RunFilter.ALL).stream()
        .filter(s -> s.state() != RunState.COMPLETE)
        .max(Comparator.comparingLong(RunSummary::id))
        .orElseThrow(
            () ->
                new BadInputException(
                    new InputFault(
                        FilePlace.of(logbook.path().toString()),
                        "every run in it is complete",
                        "a run that goes on",
                        "Name a run, or see 'millrace runs'.")));
  }

  private void ask(RunRequestFile.Asked request, RunSummary summary, Logbook book) {
    if (summary.state() == RunState.COMPLETE) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of("run " + summary.id()),
              "it is complete",
              "a run that goes on",
              "Nothing was asked of it."));
    }
    if (request.degC().isPresent()) {
      StoredRunPlan.of(book.reader(summary.id()))
          .refuse(request.degC().getAsDouble(), "--add-temperature");
    }
    RunRequestFile.of(logbook.path(), summary.id()).ask(request);
    console.error("asked of run %s: %s".formatted(summary.id(), request.text()));
    List<String> beside = beside(book, summary);
    if (!beside.isEmpty()) {
      console.error(
          "It holds for the units beside it in the chamber, too: %s."
              .formatted(String.join(", ", beside)));
    }
  }

  private static List<String> beside(Logbook book, RunSummary summary) {
    return NightRuns.of(book, summary).stream()
        .filter(r -> r.id() != summary.id() && r.state() == RunState.UNFINISHED)
        .map(r -> r.start().unit())
        .toList();
  }

  private void show(RunSummary summary, RunReader reader, boolean goesOn) {
    console.print(
        "run %s  %s  %s  %s"
            .formatted(
                summary.id(),
                summary.start().unit(),
                summary.start().title(),
                summary.state().text()));
    if (summary.state() != RunState.COMPLETE) {
      summary.heldBy().filter(who -> goesOn).ifPresent(who -> console.print("written by " + who));
      progress(reader, goesOn);
    }
    lastResult(reader).ifPresent(console::print);
    int limits = summary.start().facts().decidesAtU().size();
    if (limits > 0) {
      console.print(
          "adaptive stopping: %s, each decided at a U that was fixed before the run"
              .formatted(NumberText.counted(limits, "limit")));
    }
    List<PlanChange> changes = reader.planChanges();
    if (!changes.isEmpty()) {
      console.print(NumberText.counted(changes.size(), "change") + " of the plan:");
      changes.forEach(c -> console.print("  " + c.inOneLine()));
    }
    List<Incident> incidents = reader.incidents();
    console.print(incidents.size() + " incidents" + (incidents.isEmpty() ? "" : ", the last:"));
    incidents.stream()
        .skip(Math.max(0, incidents.size() - LAST_INCIDENTS))
        .forEach(i -> console.print("  %s %s".formatted(i.kind().text(), i.text())));
  }

  private void progress(RunReader reader, boolean goesOn) {
    StoredRunPlan stored = StoredRunPlan.of(reader);
    Plan plan = stored.plan();
    Set<String> done = ResumeState.of(reader).done();
    List<PlannedPoint> toGo = stored.toGo(done);
    int skipped = stored.changed().skippedBeside(done);
    String now = lastStep(reader).map(s -> "  at " + s.key() + ": " + s.what()).orElse("");
    console.print(
        "%s of %s points done%s%s"
            .formatted(
                plan.points().size() - toGo.size() - skipped,
                plan.points().size(),
                skipped > 0 ? ", %s skipped".formatted(skipped) : "",
                now));
    if (!goesOn) {
      return;
    }
    toGo.stream()
        .findFirst()
        .map(stored.schedule()::leftFrom)
        .filter(left -> left.toSeconds() > 0)
        .ifPresent(left -> console.print("about %s left".formatted(Progress.span(left))));
    SoakProgress.of(reader, plan, stored.datasheet())
        .ifPresent(soak -> console.print(inWords(soak)));
  }

  private static String inWords(SoakProgress soak) {
    return "soaking at %s: unit at %s, %s may be left, asked are %s; %s; bound in %s"
        .formatted(
            QuantityText.print(soak.setpointDegC(), Dimension.TEMPERATURE),
            soak.unitDegC().isPresent()
                ? QuantityText.print(soak.unitDegC().getAsDouble(), Dimension.TEMPERATURE, 4)
                : "a temperature not read yet",
            soak.leftRatio().isPresent()
                ? QuantityText.print(soak.leftRatio().getAsDouble(), Dimension.RATIO, 2)
                : "more than can be estimated yet",
            QuantityText.print(soak.askedRatio(), Dimension.RATIO, 2),
            soak.left()
                .map(span -> "about %s more".formatted(Progress.span(span)))
                .orElse("its end cannot be estimated yet"),
            Progress.span(soak.bound()));
  }

  /** The last step that has begun and not ended. */
  private static Optional<StepEntry> lastStep(RunReader reader) {
    List<StepEntry> steps = reader.steps();
    return steps.isEmpty()
        ? Optional.empty()
        : Optional.of(steps.get(steps.size() - 1)).filter(s -> s.end().isEmpty());
  }

  private static Optional<String> lastResult(RunReader reader) {
    return reader.points().stream()
        .filter(p -> p.kind() == PointKind.MEASURE && p.conditions().nominalA().isPresent())
        .reduce((a, b) -> b)
        .flatMap(p -> result(p, reader.readings(p.id())));
  }

  private static Optional<String> result(Point point, List<Reading> readings) {
    double nominal = point.conditions().nominalA().orElseThrow();
    long suspects =
        readings.stream()
            .filter(r -> r.signal() == MeasuredSignal.CURRENT && r.state() == ReadingState.SUSPECT)
            .count();
    OptionalDouble mean = Reading.corrected(readings, MeasuredSignal.CURRENT).average();
    return mean.isEmpty()
        ? Optional.empty()
        : Optional.of(
            "last %s: %s from nominal, as read%s"
                .formatted(
                    point.key(),
                    QuantityText.print(mean.getAsDouble() / nominal - 1, Dimension.RATIO, 4),
                    suspects == 0
                        ? ""
                        : ", without " + NumberText.counted(suspects, "suspect reading")));
  }
}
