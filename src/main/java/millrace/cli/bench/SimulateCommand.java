// SPDX-License-Identifier: Apache-2.0
package millrace.cli.bench;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import java.util.stream.IntStream;
import millrace.cli.exit.ExitCode;
import millrace.datasheet.DatasheetFile;
import millrace.document.file.AtomicFile;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.night.SimulatedBenchFile;
import millrace.night.SimulatedUnitFromDatasheet;
import millrace.sim.Pseudoterminals;
import millrace.sim.SimulatedBench;
import millrace.sim.fault.FaultPlan;
import millrace.sim.fault.FaultPlanFile;
import millrace.sim.fault.SimInstrumentNames;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.sim.truth.SimulatedUnitSpec;
import millrace.terminal.Console;
import millrace.time.Seeds;
import millrace.time.SystemClock;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Serves a simulated bench from a process of its own, until it is stopped. */
@Command(
    name = "simulate",
    mixinStandardHelpOptions = true,
    description = {
      "Serves a simulated bench on ports of this machine, until Ctrl-C, and prints the bench file"
          + " that goes with it. No real instrument is behind it.",
    },
    footer = {
      "",
      "Example:",
      "  millrace simulate --seed 7 --speed 60 -o simulated.yaml",
      "  and in another terminal:",
      "  millrace run SEQUENCE --unit SN --datasheet F --bench simulated.yaml"
    })
public final class SimulateCommand implements Callable<Integer> {
  private static final int MOST_UNITS = 100;
  private static final double FASTEST = 1e6;

  private final Console console;

  @Spec private CommandSpec spec;

  @Option(
      names = "--seed",
      paramLabel = "N",
      defaultValue = "1",
      description =
          "Seed of the random errors of units and instruments (default: ${DEFAULT-VALUE}).")
  private long seed;

  @Option(
      names = "--speed",
      paramLabel = "F",
      defaultValue = "1",
      description = "Seconds of the bench in one real second (default: ${DEFAULT-VALUE}).")
  private double speed;

  @Option(
      names = "--first-port",
      paramLabel = "P",
      defaultValue = "0",
      description = "Port of the first instrument, the others follow; 0: any free ports.")
  private int firstPort;

  @Option(
      names = "--units",
      paramLabel = "N",
      defaultValue = "1",
      description = "How many units sit in the chamber (default: ${DEFAULT-VALUE}).")
  private int units;

  @Option(
      names = "--datasheet",
      paramLabel = "F",
      description = "Simulate units of this datasheet (default: five decades from 1 uA to 10 mA).")
  private @Nullable Path datasheet;

  @Option(
      names = "--faults",
      paramLabel = "F",
      description = "The faults to simulate, with their times: a YAML file.")
  private @Nullable Path faults;

  @Option(
      names = "--terminals",
      paramLabel = "FOLDER",
      description =
          "Serve on pseudo-terminals in this folder too, and name them in the bench file; needs"
              + " socat.")
  private @Nullable Path folder;

  @Option(
      names = {"-o", "--output"},
      paramLabel = "F",
      description = "Write the bench file here too.")
  private @Nullable Path output;

  /**
   * The command at a console.
   *
   * @param console its output and questions
   */
  public SimulateCommand(Console console) {
    this.console = console;
  }

  @Override
  public Integer call() throws InterruptedException {
    SystemClock clock = clock();
    SimulatedBench bench = started(settings(), clock);
    Optional<Pseudoterminals> terminals = terminals(bench);
    Runtime.getRuntime().addShutdownHook(new Thread(() -> stop(bench, terminals)));
    announce(bench, terminals);
    new CountDownLatch(1).await();
    return ExitCode.DONE.number();
  }

  private SystemClock clock() {
    if (!(speed > 0 && speed <= FASTEST)) {
      throw usage("--speed " + speed + " is outside (0, 1e6]. Give a factor such as 60.");
    }
    return new SystemClock(speed);
  }

  private ParameterException usage(String message) {
    return new ParameterException(spec.commandLine(), message);
  }

  private SimulatedBench.Settings settings() {
    if (units < 1 || units > MOST_UNITS) {
      throw usage("--units " + units + " is outside 1 to " + MOST_UNITS + ".");
    }
    SimulatedUnitSpec kind =
        datasheet == null
            ? SimulatedUnitSpec.demo()
            : SimulatedUnitFromDatasheet.of(DatasheetFile.read(datasheet));
    Map<String, SimulatedUnitSpec> kinds = new LinkedHashMap<>();
    for (int i = 1; i <= units; i++) {
      kinds.put(Integer.toString(i), kind);
    }
    FaultPlan plan = faults == null ? FaultPlan.NONE : FaultPlanFile.read(faults);
    try {
      return SimulatedBench.Settings.drawn(SimulatedBenchSpec.demo(), kinds, new Seeds(seed))
          .fromPort(firstPort)
          .with(plan);
    } catch (IllegalArgumentException e) {
      throw usage(e.getMessage() + ".");
    }
  }

  private SimulatedBench started(SimulatedBench.Settings settings, SystemClock clock) {
    try {
      return SimulatedBench.start(settings, clock);
    } catch (UncheckedIOException e) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of("simulate"),
              e.getMessage(),
              "%s free ports from %s on".formatted(SimInstrumentNames.NAMES.size(), firstPort),
              "Give another --first-port, or 0 for any free ports."));
    }
  }

  private Optional<Pseudoterminals> terminals(SimulatedBench bench) {
    if (folder == null) {
      return Optional.empty();
    }
    if (!Pseudoterminals.available()) {
      console.error(
          "no pseudo-terminals: the program socat is not installed; the bench is served on sockets"
              + " only. Install socat, then start again.");
      return Optional.empty();
    }
    try {
      Files.createDirectories(folder);
      return Optional.of(Pseudoterminals.open(bench, folder.toAbsolutePath()));
    } catch (IOException | UncheckedIOException e) {
      bench.close();
      throw cannotWrite(folder, e);
    }
  }

  private static BadInputException cannotWrite(Path path, Exception e) {
    return new BadInputException(
        new InputFault(
            FilePlace.of(path.toString()),
            "it cannot be written (" + e.getMessage() + ")",
            "a place that can",
            "Name another place, or change its permissions."));
  }

  private void announce(SimulatedBench bench, Optional<Pseudoterminals> terminals) {
    Map<String, String> addresses =
        terminals
            .map(t -> SimulatedBenchFile.terminals(t.paths()))
            .orElseGet(() -> SimulatedBenchFile.sockets(bench));
    String text = SimulatedBenchFile.text(addresses, positions());
    if (output != null) {
      AtomicFile.renew(output, "-o", out -> out.write(text));
    }
    console.print(text.strip());
    console.error("SIMULATED: no real instrument is behind this bench. Seed " + seed + ".");
    console.error("Serving until Ctrl-C.");
    console.flush();
  }

  private List<String> positions() {
    return IntStream.rangeClosed(1, units).mapToObj(Integer::toString).toList();
  }

  private void stop(SimulatedBench bench, Optional<Pseudoterminals> terminals) {
    terminals.ifPresent(Pseudoterminals::close);
    bench.close();
    bench
        .mistreatments()
        .forEach(m -> console.error("this must never happen on a real bench: " + m));
    console.error("The simulated bench has stopped.");
  }
}
