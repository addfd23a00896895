// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import millrace.bench.Bench;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.bench.BenchLock;
import millrace.bench.driver.Drivers;
import millrace.bench.role.BenchOperator;
import millrace.bench.role.InstrumentDriver.Surroundings;
import millrace.datasheet.Datasheet;
import millrace.link.LinkOpener;
import millrace.link.LinkRecorder;
import millrace.logbook.RunStart;
import millrace.run.control.BenchTakeover;
import millrace.sim.fault.FaultPlan;
import millrace.time.TimeSource;
import millrace.time.VirtualClock;

/** An open bench, real or simulated, with its bench file and its clock. */
public final class BenchSession implements AutoCloseable {
  private final String name;
  private final byte[] content;
  private final Bench bench;
  private final TimeSource time;
  private final Optional<SimulatedBenchSession> simulation;
  private boolean replayed;
  private Optional<BenchLock> lock = Optional.empty();
  private Map<String, String> met = Map.of();

  private BenchSession(
      String name,
      byte[] content,
      Bench bench,
      TimeSource time,
      Optional<SimulatedBenchSession> simulation) {
    this.name = name;
    this.content = content;
    this.bench = bench;
    this.time = time;
    this.simulation = simulation;
  }

  /** Makes a session from a bench file. */
  public static BenchSession ofFile(
      String name, byte[] content, Drivers drivers, TimeSource time, BenchOperator person) {
    return ofFile(name, content, drivers, new Surroundings(time, person), Links.TO_INSTRUMENTS);
  }

  /** Makes a session from a bench file, with links to its instruments or to a recording of them. */
  public static BenchSession ofFile(
      String name, byte[] content, Drivers drivers, Surroundings surroundings, Links links) {
    BenchFile file = BenchForms.read(name, content);
    Bench bench = Bench.open(file, drivers, surroundings, links.opener());
    BenchSession setting =
        new BenchSession(name, content, bench, surroundings.time(), Optional.empty());
    setting.replayed = links.replayed();
    return setting;
  }

  /**
   * Makes a session for a run that is computed and not measured: it sends nothing to any
   * instrument.
   *
   * @param name of its file
   * @param content of its file
   * @param bench the substitutes for its instruments
   * @param time its clock
   * @return the setting; runs on it are simulated
   */
  public static BenchSession computed(String name, byte[] content, Bench bench, TimeSource time) {
    BenchSession setting = new BenchSession(name, content, bench, time, Optional.empty());
    setting.replayed = true;
    return setting;
  }

  /**
   * The links of a bench: to instruments or to a recording.
   *
   * @param opener opens them
   * @param replayed true if a recording answers instead of the instruments
   */
  public record Links(LinkOpener opener, boolean replayed) {
    /** Links to the instruments themselves, without recording. */
    public static final Links TO_INSTRUMENTS =
        new Links(LinkOpener.recording(address -> LinkRecorder.NONE), false);
  }

  /** A simulated bench in this process, in virtual time, without faults. */
  public static BenchSession simulated(
      long seed, VirtualClock clock, Datasheet datasheet, Drivers drivers) {
    return simulated(seed, clock, datasheet, drivers, SimulatedBenchSession.ONE);
  }

  /** The same with a unit at each of several positions of the switch. */
  static BenchSession simulated(
      long seed, VirtualClock clock, Datasheet datasheet, Drivers drivers, List<String> positions) {
    return of(
        SimulatedBenchSession.start(seed, clock, datasheet, FaultPlan.NONE, positions), drivers);
  }

  /** A simulated bench of this process. */
  public static BenchSession of(SimulatedBenchSession simulation, Drivers drivers) {
    return of(simulation, drivers, Links.TO_INSTRUMENTS);
  }

  /** The same, with links that are recorded. */
  public static BenchSession of(SimulatedBenchSession simulation, Drivers drivers, Links links) {
    byte[] content = simulation.benchFile().getBytes(StandardCharsets.UTF_8);
    BenchFile file = BenchForms.read(SimulatedBenchSession.NAME, content);
    Surroundings around = new Surroundings(simulation.time(), BenchOperator.NOBODY);
    Bench bench = Bench.open(file, drivers, around, links.opener());
    return new BenchSession(
        SimulatedBenchSession.NAME, content, bench, simulation.time(), Optional.of(simulation));
  }

  /** Whether the bench exists only in this process. */
  public boolean ownProcess() {
    return simulation.isPresent() || replayed;
  }

  /**
   * Locks the bench for this process until it is closed.
   *
   * @throws millrace.fault.InstrumentException if another process has the bench; the message names
   *     it
   */
  public void hold() {
    if (!ownProcess() && lock.isEmpty()) {
      lock = Optional.of(BenchLock.take(bench.file(), BenchLock.usualFolder()));
    }
  }

  /**
   * Locks the bench and identifies every instrument, before the run writes anything.
   *
   * @throws millrace.fault.InstrumentException if another process has the bench, or an instrument
   *     does not answer or has another identity
   */
  public void meet() {
    hold();
    met = bench.identify();
  }

  /** The identities that answered when the bench was opened. */
  public Map<String, String> met() {
    return met;
  }

  /** The identities: the first call returns those from the opening; later calls query again. */
  Map<String, String> identities() {
    Map<String, String> now = met.isEmpty() ? bench.identify() : met;
    met = Map.of();
    return now;
  }

  /** Adds to the lock the run that uses the bench and the address for requests to it. */
  void hold(Path logbook, long run, UUID uuid) {
    lock.ifPresent(l -> l.tell(BenchTakeover.running(logbook, run, uuid)));
  }

  /** The name of the bench file. */
  public String name() {
    return name;
  }

  /** The bench file, whole. */
  public byte[] content() {
    return content;
  }

  /** The instruments. */
  public Bench bench() {
    return bench;
  }

  /** The clock that runs on this bench. */
  public TimeSource time() {
    return time;
  }

  /** The record of a simulation or a replay in the logbook; empty for a real bench. */
  public Optional<RunStart.Simulation> remembered() {
    if (simulation.isPresent()) {
      return Optional.of(new RunStart.Simulation(simulation.get().seed(), true));
    }
    return bench.file().simulated() || replayed
        ? Optional.of(new RunStart.Simulation(0, false))
        : Optional.empty();
  }

  /**
   * The same; a bench whose instruments identify themselves as simulated counts as simulated,
   * whatever its file states.
   */
  public Optional<RunStart.Simulation> remembered(Map<String, String> identities) {
    boolean says = identities.values().stream().anyMatch(i -> i.contains("SIMULATED"));
    return remembered()
        .or(() -> says ? Optional.of(new RunStart.Simulation(0, false)) : Optional.empty());
  }

  /** The simulated bench of this process; empty for any other. */
  public Optional<SimulatedBenchSession> simulation() {
    return simulation;
  }

  @Override
  public void close() {
    bench.close();
    lock.ifPresent(BenchLock::close);
    simulation.ifPresent(SimulatedBenchSession::close);
  }
}
