// SPDX-License-Identifier: Apache-2.0
package millrace.cli.bench;

import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.Callable;
import millrace.bench.Bench;
import millrace.bench.check.BenchCheck;
import millrace.bench.check.BenchCheckFinding;
import millrace.bench.check.BenchCheckFinding.State;
import millrace.bench.role.BenchOperator;
import millrace.cli.exit.ExitCode;
import millrace.cli.option.BenchOptions;
import millrace.cli.option.LinkRecordingOptions;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFaultList;
import millrace.fault.InstrumentException;
import millrace.night.BenchCapabilityCheck;
import millrace.night.BenchLimitCheck;
import millrace.night.BenchSession;
import millrace.night.BenchVoltageSources;
import millrace.night.CautionConfirmation;
import millrace.night.RequiredCurrentUncertainty;
import millrace.night.RunInputs;
import millrace.night.SimulatedBenchSession;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityException;
import millrace.quantity.QuantityText;
import millrace.run.trial.MeterChainCheck;
import millrace.sequence.Plan;
import millrace.terminal.Console;
import millrace.terminal.Questions;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Checks a bench before it is used for a night. */
@Command(
    name = "check",
    mixinStandardHelpOptions = true,
    sortOptions = false,
    description = {
      "Checks every instrument of a bench: identity, link, round-trip time, error queue,"
          + " calibration date, and the sensors of its interlocks.",
      "With a datasheet: the meter chain with a unit in place, range by range, which names wrong"
          + " wiring; the bench is made safe afterwards. With a sequence: whether the bench can do"
          + " it."
    },
    footer = {
      "",
      "Exit code: 0 all good, 1 something is wrong, 3 an instrument does not answer or another one"
          + " does, 7 something is worth a look, as an instrument set by hand after which nobody"
          + " could be asked.",
      "",
      "Examples:",
      "  millrace bench check --bench bench.yaml",
      "  millrace bench check --bench bench.yaml --datasheet fx-3.datasheet.yaml \\",
      "      --sequence sequences/quick-look.yaml"
    })
final class BenchCheckCommand implements Callable<Integer> {
  private static final Map<State, ExitCode> CODES =
      new EnumMap<>(
          Map.of(
              State.GOOD,
              ExitCode.DONE,
              State.CAUTION,
              ExitCode.INCOMPLETE,
              State.BAD,
              ExitCode.FAIL,
              State.ANOTHER,
              ExitCode.INSTRUMENT,
              State.NO_ANSWER,
              ExitCode.INSTRUMENT));

  private final Console console;

  @Spec private CommandSpec spec;

  @Mixin private BenchOptions bench = new BenchOptions();
  @Mixin private LinkRecordingOptions links = new LinkRecordingOptions();

  @Option(
      names = "--sequence",
      paramLabel = "FILE",
      description = "Whether the bench can do this; needs --datasheet.")
  private Optional<Path> sequence = Optional.empty();

  @Option(names = "--datasheet", paramLabel = "FILE", description = "What the unit promises.")
  private Optional<Path> datasheet = Optional.empty();

  @Option(
      names = "--uncertainty",
      paramLabel = "RATIO",
      description =
          "The standard uncertainty wanted of currents, such as '2 ppm'; else what the sequence"
              + " asks for, else what the current meter states.")
  private Optional<String> uncertainty = Optional.empty();

  @Option(
      names = "--slots",
      description = "Have someone switch off one unit after another, to see which is where.")
  private boolean slots;

  @Option(
      names = "--confirm-above-60V",
      description = "Confirm beforehand that voltages above 60 V DC are guarded.")
  private boolean confirmAbove60V;

  @Option(names = "--json", description = "One JSON document on standard output.")
  private boolean json;

  BenchCheckCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    bench.refuseNone(spec.commandLine());
    links.check(spec.commandLine(), bench.simulated());
    if ((sequence.isPresent() || slots || uncertainty.isPresent()) && datasheet.isEmpty()) {
      throw new CommandLine.ParameterException(
          spec.commandLine(),
          "--sequence, --slots or --uncertainty without --datasheet; expected both");
    }
    Optional<Datasheet> sheet = datasheet.map(DatasheetFile::read);
    try (LinkRecordingOptions recording = links;
        BenchSession setting = open(sheet, recording.links())) {
      refuseUnsaid(setting.bench());
      sheet.ifPresent(s -> confirm(BenchVoltageSources.of(s, setting.bench().file()), setting));
      setting.hold();
      return checked(setting, sheet).number();
    }
  }

  /** Refuses a bench whose limits of supply and chamber are missing or incomplete. */
  static void refuseUnsaid(Bench bench) {
    InputFaultList faults = new InputFaultList();
    BenchLimitCheck.missing(bench.file(), faults);
    faults.throwIfAny();
    bench.refuseSafeBeyond();
  }

  /** The meters must withstand the voltage of a unit, before one is switched on. */
  private void confirm(BenchVoltageSources voltages, BenchSession setting) {
    InputFaultList faults = new InputFaultList();
    BenchLimitCheck.inputs(setting.bench().file(), voltages, faults);
    faults.throwIfAny();
    new CautionConfirmation(console, false).confirm(voltages, confirmAbove60V, bench.simulated());
  }

  private BenchSession open(Optional<Datasheet> sheet, BenchSession.Links where) {
    return sheet.isPresent()
        ? bench.open(sheet.get(), person(), SimulatedBenchSession.ONE, where)
        : bench.openAny(person(), where);
  }

  private BenchOperator person() {
    return console.interactive() ? new Questions(console, false).person("") : BenchOperator.NOBODY;
  }

  private ExitCode checked(BenchSession setting, Optional<Datasheet> sheet) {
    LocalDate day = LocalDate.ofInstant(setting.time().now(), ZoneOffset.UTC);
    Bench open = setting.bench();
    Optional<BenchOperator> person = Optional.of(person()).filter(p -> console.interactive());
    BenchCheck check = BenchCheck.of(open, day, person);
    List<BenchCheckFinding> findings = new ArrayList<>(check.interlocks());
    Optional<RunInputs> inputs = sequence.map(s -> RunInputs.read(s, datasheet.orElseThrow()));
    inputs.ifPresent(i -> findings.addAll(coverage(setting, i)));
    if (sheet.isPresent()) {
      findings.addAll(
          new RequiredCurrentUncertainty(setting.bench().file(), sheet.get()).of(wanted(inputs)));
      if (check.speaking()) {
        findings.addAll(withUnit(setting, sheet.get()));
      }
    }
    return told(new BenchCheckPage(setting, links.replays(), check.instruments(), findings));
  }

  /** Checks the wiring, with a unit connected; the bench is made safe in every case. */
  private List<BenchCheckFinding> withUnit(BenchSession setting, Datasheet sheet) {
    MeterChainCheck check = new MeterChainCheck(setting.bench(), sheet, setting.time());
    List<BenchCheckFinding> found = new ArrayList<>();
    try {
      found.addAll(check.ranges());
      if (slots) {
        found.addAll(check.slots(new Questions(console, false).person("")));
      }
    } catch (InstrumentException e) {
      found.add(BenchCheckFinding.noAnswer("meter chain", String.valueOf(e.getMessage())));
    } finally {
      SafeCommand.refuseUnsafe(setting.bench().makeSafe());
    }
    return found;
  }

  private OptionalDouble wanted(Optional<RunInputs> inputs) {
    if (uncertainty.isPresent()) {
      try {
        return OptionalDouble.of(QuantityText.parse(uncertainty.get(), Dimension.RATIO));
      } catch (QuantityException e) {
        throw new BadInputException(e.at(FilePlace.of("--uncertainty")));
      }
    }
    return inputs
        .map(
            i ->
                i.plan(List.of()).points().stream()
                    .flatMap(p -> p.rules().readings().untilRatio().stream())
                    .mapToDouble(r -> r)
                    .min())
        .orElse(OptionalDouble.empty());
  }

  private List<BenchCheckFinding> coverage(BenchSession setting, RunInputs inputs) {
    String what = "sequence " + sequence.orElseThrow().getFileName();
    Plan plan = inputs.plan(List.copyOf(setting.bench().file().slots().keySet()));
    try {
      BenchCapabilityCheck.check(plan, inputs.datasheet(), setting.bench().file());
      return List.of(
          BenchCheckFinding.good(
              what, "the bench can do its %s points".formatted(plan.points().size())));
    } catch (BadInputException e) {
      return e.faults().stream()
          .map(fault -> BenchCheckFinding.bad(what, fault.toString()))
          .toList();
    }
  }

  /** The worst finding. */
  static ExitCode code(List<BenchCheckFinding> findings) {
    return ExitCode.worst(findings.stream().map(f -> CODES.get(f.state())).toList());
  }

  private ExitCode told(BenchCheckPage page) {
    ExitCode code = code(page.findings());
    if (json) {
      console.document(page.json(code));
    } else {
      console.print(page.table());
    }
    return code;
  }
}
