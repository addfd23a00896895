package millrace.cli;

import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import millrace.bench.Bench;
import millrace.bench.check.Finding;
import millrace.bench.check.Finding.State;
import millrace.bench.check.InstrumentCheck;
import millrace.bench.check.InterlockCheck;
import millrace.bench.role.Person;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.fault.BadInputException;
import millrace.sequence.Plan;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Looks at a bench before it is trusted with a night. */
@Command(
    name = "check",
    mixinStandardHelpOptions = true,
    sortOptions = false,
    description = {
      "Speaks to every instrument of a bench: identity, link, round-trip time, error queue,"
          + " calibration date, and the sensors of its interlocks.",
      "With a sequence: whether the bench can do it."
    },
    footer = {
      "",
      "Exit code: 0 all good, 1 something is wrong, 3 an instrument does not answer, 7 something is"
          + " worth a look.",
      "",
      "Examples:",
      "  millrace bench check --bench bench.yaml",
      "  millrace bench check --bench bench.yaml --datasheet fx-3.datasheet.yaml --sequence"
          + " sequences/quick-look.yaml"
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
              State.NO_ANSWER,
              ExitCode.INSTRUMENT));

  private final Console console;

  @Spec private CommandSpec spec;

  @Mixin private BenchOptions bench = new BenchOptions();
  @Mixin private LinkOptions links = new LinkOptions();

  @Option(
      names = "--sequence",
      paramLabel = "FILE",
      description = "Whether the bench can do this; needs --datasheet.")
  private Optional<Path> sequence = Optional.empty();

  @Option(names = "--datasheet", paramLabel = "FILE", description = "What the unit promises.")
  private Optional<Path> datasheet = Optional.empty();

  @Option(names = "--json", description = "One JSON document on standard output.")
  private boolean json;

  BenchCheckCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() {
    bench.refuseNone(spec.commandLine());
    links.check(spec.commandLine(), bench.simulated());
    if (sequence.isPresent() && datasheet.isEmpty()) {
      throw new CommandLine.ParameterException(
          spec.commandLine(), "--sequence without --datasheet; expected both");
    }
    try (LinkOptions recording = links;
        BenchSetting setting = open(recording.links())) {
      return checked(setting).number();
    }
  }

  private BenchSetting open(BenchSetting.Links where) {
    if (bench.simulated() && datasheet.isPresent()) {
      Datasheet sheet = DatasheetFile.read(datasheet.get());
      return bench.open(sheet, Person.NOBODY, Simulation.ONE, where);
    }
    return bench.openAny(person(), where);
  }

  private Person person() {
    return console.interactive() ? new Questions(console, false).person("") : Person.NOBODY;
  }

  private ExitCode checked(BenchSetting setting) {
    LocalDate day = LocalDate.ofInstant(setting.time().now(), ZoneOffset.UTC);
    Bench open = setting.bench();
    List<InstrumentCheck> instruments =
        open.file().instruments().values().stream()
            .map(entry -> InstrumentCheck.of(open, entry, day))
            .toList();
    List<Finding> findings = new ArrayList<>();
    boolean speaking = instruments.stream().allMatch(i -> i.trouble().isEmpty());
    if (speaking) {
      findings.addAll(InterlockCheck.of(open));
    }
    findings.addAll(coverage(setting));
    return told(new BenchCheckPage(setting, links.replays(), instruments, findings));
  }

  private List<Finding> coverage(BenchSetting setting) {
    if (sequence.isEmpty()) {
      return List.of();
    }
    String what = "sequence " + sequence.get().getFileName();
    RunInputs inputs = RunInputs.read(sequence.get(), datasheet.orElseThrow());
    Plan plan = inputs.plan(List.copyOf(setting.bench().file().slots().keySet()));
    try {
      BenchNeeds.check(plan, inputs.datasheet(), setting.bench().file());
      return List.of(
          Finding.good(what, "the bench can do its %d points".formatted(plan.points().size())));
    } catch (BadInputException e) {
      return e.faults().stream().map(fault -> Finding.bad(what, fault.toString())).toList();
    }
  }

  private ExitCode told(BenchCheckPage page) {
    ExitCode code =
        ExitCode.worst(page.findings().stream().map(f -> CODES.get(f.state())).toList());
    if (json) {
      console.print(page.json(code));
    } else {
      console.print(page.table());
    }
    return code;
  }
}
