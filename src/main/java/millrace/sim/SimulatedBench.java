// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import millrace.quantity.NumberText;
import millrace.sim.fault.FaultPlan;
import millrace.sim.fault.SimFault;
import millrace.sim.fault.SimInstrumentNames;
import millrace.sim.truth.BenchTruth;
import millrace.sim.truth.SimValueChecks;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.sim.truth.SimulatedCheckStandard;
import millrace.sim.truth.SimulatedUnit;
import millrace.sim.truth.SimulatedUnitSpec;
import millrace.time.Seeds;
import millrace.time.TimeSource;

/**
 * A bench of simulated instruments, each on a loopback port of its own, around simulated units.
 *
 * <p>Dialects: {@code ammeter}, {@code voltmeter}, {@code supply} and {@code switch} speak
 * SCPI-1999; {@code load}, {@code chamber}, {@code thermometer}, {@code room} and {@code selector}
 * answer each line of plain text, a command with {@code OK} or {@code ERR why}, a question with a
 * value.
 *
 * <p>Thread-safe.
 */
public final class SimulatedBench implements AutoCloseable {
  private final SimulatedLoop circuit;
  private final Map<String, SimulatedUnit> units = new ConcurrentHashMap<>();
  private final FaultInjector faults;
  private final SimReceivedLineLog ears;
  private final Map<String, LineServer> servers = new LinkedHashMap<>();

  /**
   * The settings of a bench.
   *
   * @param spec the distributions of its errors
   * @param units by switch position, in order; at least one
   * @param seeds the seeds of errors and noise
   * @param firstPort the port of the first instrument, the others following; 0 for any free ports
   * @param faults the faults
   */
  public record Settings(
      SimulatedBenchSpec spec,
      Map<String, SimulatedUnit> units,
      Seeds seeds,
      int firstPort,
      FaultPlan faults) {
    /** Copies the map and checks the components. */
    public Settings {
      units = Collections.unmodifiableMap(new LinkedHashMap<>(units));
      SimValueChecks.notEmpty("units on a bench", units.size());
      if (units.containsKey(SimulatedCheckStandard.POSITION)) {
        throw new IllegalArgumentException(
            "a unit at position %s; the check standard sits there"
                .formatted(SimulatedCheckStandard.POSITION));
      }
      if (firstPort != 0
          && (firstPort < 1 || firstPort + SimInstrumentNames.NAMES.size() > 65_536)) {
        throw new IllegalArgumentException(
            "the first port is %s; expected 0 or 1 to %s"
                .formatted(firstPort, 65_536 - SimInstrumentNames.NAMES.size()));
      }
    }

    /**
     * The bench of the demo with one unit at position 1, on any free ports.
     *
     * @param seeds the seeds of unit and errors
     * @return the settings
     */
    public static Settings demo(Seeds seeds) {
      return drawn(SimulatedBenchSpec.demo(), Map.of("1", SimulatedUnitSpec.demo()), seeds);
    }

    /**
     * A bench whose units are drawn with the same seeds as its errors, on any free ports.
     *
     * @param spec the distributions of its errors
     * @param kinds the kind of each unit by its switch position, in order; at least one
     * @param seeds the seeds of units and errors
     * @return the settings
     */
    public static Settings drawn(
        SimulatedBenchSpec spec, Map<String, SimulatedUnitSpec> kinds, Seeds seeds) {
      Map<String, SimulatedUnit> units = new LinkedHashMap<>();
      kinds.forEach(
          (at, kind) -> units.put(at, new SimulatedUnit(kind, seeds.derive("unit " + at))));
      return new Settings(spec, units, seeds, 0, FaultPlan.NONE);
    }

    /**
     * The same with faults.
     *
     * @param plan the faults
     * @return the settings with it
     */
    public Settings with(FaultPlan plan) {
      return new Settings(spec, units, seeds, firstPort, plan);
    }

    /**
     * The same on fixed ports.
     *
     * @param port the port of the first instrument, the others following; 0 for any free ports
     * @return the settings with it
     */
    public Settings fromPort(int port) {
      return new Settings(spec, units, seeds, port, faults);
    }
  }

  private SimulatedBench(Settings settings, TimeSource time) {
    units.putAll(settings.units());
    circuit = new SimulatedLoop(settings.spec(), settings.units(), time, settings.seeds());
    PlainTextSimInstruments.Sensor thermometer = new PlainTextSimInstruments.Sensor();
    faults = new FaultInjector(settings.faults(), circuit, thermometer);
    ears = new SimReceivedLineLog(time);
    Map<String, SimLineResponder> talkers = talkers(thermometer);
    int port = settings.firstPort();
    try {
      for (String name : SimInstrumentNames.NAMES) {
        SimLineResponder locked = new SharedSimInstrument(circuit, talkers.get(name));
        servers.put(name, new LineServer(port, new LineServer.Service(name, locked, faults, ears)));
        port += settings.firstPort() == 0 ? 0 : 1;
      }
    } catch (RuntimeException e) {
      close();
      throw e;
    }
  }

  /**
   * Starts a bench.
   *
   * @param settings its settings
   * @param time the clock; instruments advance it by the time that they are busy
   * @return the running bench
   * @throws java.io.UncheckedIOException if a port cannot be served
   */
  public static SimulatedBench start(Settings settings, TimeSource time) {
    return new SimulatedBench(settings, time);
  }

  /**
   * Starts a bench without faults.
   *
   * @param spec the distributions of its errors
   * @param kinds the kind of each unit by its switch position; at least one
   * @param time the clock; instruments advance it by the time that they are busy
   * @param seeds the seeds of units and errors
   * @param firstPort the port of the first instrument, the others following; 0 for any free ports
   * @return the running bench
   * @throws java.io.UncheckedIOException if a port cannot be served
   */
  public static SimulatedBench start(
      SimulatedBenchSpec spec,
      Map<String, SimulatedUnitSpec> kinds,
      TimeSource time,
      Seeds seeds,
      int firstPort) {
    return start(Settings.drawn(spec, kinds, seeds).fromPort(firstPort), time);
  }

  private static SimMeter.Kind inLoop(SimulatedLoop circuit) {
    return circuit.spec().shunt().isPresent() ? SimMeter.Kind.SHUNT : SimMeter.Kind.CURRENT;
  }

  private Map<String, SimLineResponder> talkers(PlainTextSimInstruments.Sensor thermometer) {
    Map<String, SimLineResponder> talkers = new LinkedHashMap<>();
    talkers.put("ammeter", new SimMeter(circuit, inLoop(circuit)));
    talkers.put("voltmeter", new SimMeter(circuit, SimMeter.Kind.VOLTAGE));
    talkers.put("load", PlainTextSimInstruments.load(circuit));
    talkers.put("chamber", PlainTextSimInstruments.chamber(circuit));
    talkers.put("thermometer", PlainTextSimInstruments.thermometer(circuit, thermometer));
    talkers.put("room", PlainTextSimInstruments.room(circuit));
    talkers.put("selector", PlainTextSimInstruments.selector(circuit));
    talkers.put("supply", new SimSupply(circuit));
    talkers.put("switch", new SimSwitch(circuit));
    return talkers;
  }

  /**
   * The port of each instrument.
   *
   * @return by instrument name
   */
  public Map<String, Integer> ports() {
    Map<String, Integer> ports = new LinkedHashMap<>();
    servers.forEach((name, server) -> ports.put(name, server.port()));
    return ports;
  }

  /**
   * The true unit at a switch position.
   *
   * @param position a position with a unit
   * @return the unit
   */
  public SimulatedUnit unit(String position) {
    SimulatedUnit unit = units.get(position);
    if (unit == null) {
      throw new IllegalArgumentException("no unit at position '" + position + "'");
    }
    return unit;
  }

  /**
   * Exchanges the unit at a position for another one, as an operator does between two boards. The
   * other unit is at room temperature. If this opens a live current loop, it is a mishap.
   *
   * @param position a position with a unit
   * @param unit the other unit
   */
  public void insert(String position, SimulatedUnit unit) {
    unit(position);
    circuit.lock().lock();
    try {
      circuit.insert(position, unit);
      units.put(position, unit);
    } finally {
      circuit.lock().unlock();
    }
  }

  /**
   * Switches a unit off by its own switch, or on again, as a person does by its label.
   *
   * @param label the position on its label; with swapped slots the unit is in another position
   * @param off true for off
   */
  public void switchOff(String label, boolean off) {
    unit(label);
    circuit.lock().lock();
    try {
      circuit.switchOff(label, off);
    } finally {
      circuit.lock().unlock();
    }
  }

  /**
   * The true current of the check standard at switch position {@code S}.
   *
   * @return A
   */
  public double standardA() {
    return circuit.standard().currentA();
  }

  /**
   * The true errors of the instruments.
   *
   * @return the drawn errors
   */
  public BenchTruth truth() {
    return circuit.truth();
  }

  /**
   * The true temperature of a unit.
   *
   * @param position its switch position
   * @return degC, now
   */
  public double unitDegC(String position) {
    circuit.lock().lock();
    try {
      return circuit.climate().unitDegC(position);
    } finally {
      circuit.lock().unlock();
    }
  }

  /**
   * The forbidden events that occurred.
   *
   * @return one text each, in order; empty on a good bench
   */
  public List<String> mistreatments() {
    circuit.lock().lock();
    try {
      return circuit.watch().mistreatments();
    } finally {
      circuit.lock().unlock();
    }
  }

  /**
   * The faults that occurred so far.
   *
   * @return in order, one entry per affected reply
   */
  public List<StruckSimFault> struck() {
    return faults.struck();
  }

  /**
   * Adds a fault from now on.
   *
   * @param fault the fault; one that affects replies, not the bench
   */
  public void strike(SimFault fault) {
    faults.add(fault);
  }

  /**
   * The lines that the instruments have received, the latest 100,000: the commands that reached the
   * bench, whoever sent them and whatever the reply.
   *
   * @return in order
   */
  public List<SimReceivedLine> heard() {
    return ears.heard();
  }

  /**
   * The readings of the meters, the latest 100,000.
   *
   * @return in order
   */
  public List<SimMeterReply> given() {
    circuit.lock().lock();
    try {
      return circuit.given();
    } finally {
      circuit.lock().unlock();
    }
  }

  /**
   * Tells whether the bench is in the safe state: source and supply off, chamber going to room
   * temperature.
   *
   * @return the deviations; empty if the bench is safe
   */
  public List<String> unsafe() {
    circuit.lock().lock();
    try {
      return found();
    } finally {
      circuit.lock().unlock();
    }
  }

  private List<String> found() {
    List<String> found = new ArrayList<>();
    if (circuit.sourceOn()) {
      found.add("the source is on");
    }
    if (circuit.supplyOn()) {
      found.add("the supply is on");
    }
    if (Math.abs(circuit.climate().setpoint() - SimulatedUnitSpec.REFERENCE_DEGC) > 3) {
      found.add(
          "the chamber is set to " + NumberText.print(circuit.climate().setpoint()) + " degC");
    }
    return found;
  }

  @Override
  public void close() {
    servers.values().forEach(LineServer::close);
  }
}
