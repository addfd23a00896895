// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.bench.role.BenchOperator;
import millrace.bench.role.InstrumentDriver.Surroundings;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.document.yaml.YamlFile;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.night.BenchSession;
import millrace.night.SimulatedBenchSession;
import millrace.quantity.NumberText;
import millrace.sim.fault.FaultPlan;
import millrace.time.SystemClock;
import millrace.time.TimeSource;
import millrace.time.VirtualClock;
import picocli.CommandLine;
import picocli.CommandLine.Option;

/** The bench of a command, and the draw and speed of a simulated one. */
public final class BenchOptions extends BenchFileOptions {
  private static final long USUAL_SEED = 1;

  /** The highest speed-up at which a simulated bench still answers. */
  private static final double FASTEST = 1e6;

  @Option(
      names = "--seed",
      paramLabel = "N",
      description = "Seed of the random errors of the simulated bench.")
  private Optional<Long> seed = Optional.empty();

  @Option(
      names = "--speed",
      paramLabel = "F",
      description = "How many times faster than real the clock of a simulated --bench runs.")
  private Optional<Double> speed = Optional.empty();

  /** The options to repeat when a run is resumed; the run keeps its bench file. */
  public List<String> again() {
    List<String> words = new ArrayList<>();
    askedFolder().ifPresent(f -> words.addAll(List.of("--drivers", CommandToType.path(f))));
    speed.ifPresent(s -> words.addAll(List.of("--speed", NumberText.print(s))));
    return words;
  }

  /** Whether the clock of a simulated bench is to run faster. */
  public boolean hurried() {
    return speed.isPresent();
  }

  @Override
  public void refuseNone(CommandLine line) {
    refuseSpeed(line);
    super.refuseNone(line);
  }

  /** Refuses an impossible speed, or a speed without a bench file. */
  public void refuseSpeed(CommandLine line) {
    if (speed.isPresent() && simulated()) {
      throw new CommandLine.ParameterException(
          line,
          "--speed with --simulated; expected it with --bench FILE: the simulated bench runs in"
              + " virtual time, as fast as it can");
    }
    if (speed.isPresent() && !(speed.get() > 0 && speed.get() <= FASTEST)) {
      throw new CommandLine.ParameterException(
          line,
          "--speed %s is outside (0, 1e6]; expected a factor such as 60".formatted(speed.get()));
    }
  }

  /** The clock of a real bench, faster where its instruments are simulated and --speed is given. */
  public TimeSource clock() {
    return speed.isPresent() ? new SystemClock(speed.get()) : new SystemClock();
  }

  /** The same; a simulated bench has these faults, and a unit at each position. */
  public BenchSession open(
      Datasheet datasheet, BenchOperator person, FaultPlan faults, List<String> positions) {
    return simulated()
        ? simulated(datasheet, faults, positions, BenchSession.Links.TO_INSTRUMENTS)
        : openFile(person, BenchSession.Links.TO_INSTRUMENTS);
  }

  /** The same without faults; links are recorded, or lead to a recording. */
  public BenchSession open(
      Datasheet datasheet, BenchOperator person, List<String> positions, BenchSession.Links links) {
    return simulated()
        ? simulated(datasheet, FaultPlan.NONE, positions, links)
        : openFile(person, links);
  }

  private BenchSession simulated(
      Datasheet datasheet, FaultPlan faults, List<String> positions, BenchSession.Links links) {
    VirtualClock clock = new VirtualClock(new SystemClock().now());
    SimulatedBenchSession simulation =
        SimulatedBenchSession.start(seed.orElse(USUAL_SEED), clock, datasheet, faults, positions);
    return BenchSession.of(simulation, drivers(), links);
  }

  /**
   * Opens a bench for a command without a unit; a simulated bench contains a unit of the shipped
   * example.
   */
  public BenchSession openAny(BenchOperator person, BenchSession.Links links) {
    return simulated()
        ? open(
            DatasheetFile.read(InstallationFolder.path("examples/fx-3.datasheet.yaml")),
            person,
            SimulatedBenchSession.ONE,
            links)
        : openFile(person, links);
  }

  /** Opens the bench that a file describes. */
  public BenchSession openFile(BenchOperator person, BenchSession.Links links) {
    Path path = file().orElseThrow();
    BenchSession setting =
        BenchSession.ofFile(
            path.toString(),
            YamlFile.bytes(path),
            drivers(),
            new Surroundings(clock(), person),
            links);
    return hurriedOnly(setting, path.toString());
  }

  /** A bench with the requested clock speed; it is closed if that speed is not allowed. */
  public BenchSession hurriedOnly(BenchSession setting, String name) {
    if (speed.isPresent() && !setting.bench().file().simulated()) {
      setting.close();
      throw new BadInputException(
          new InputFault(
              FilePlace.of(name),
              "--speed is given, and the bench is not simulated",
              "a bench file that says 'simulated: yes'",
              "Leave --speed out: real instruments take real time."));
    }
    return setting;
  }
}
