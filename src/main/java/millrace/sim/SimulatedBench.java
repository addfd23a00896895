package millrace.sim;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SplittableRandom;
import millrace.quantity.Numbers;
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
  /** The instruments, in the order in which fixed ports are given to them. */
  public static final List<String> INSTRUMENTS =
      List.of(
          "ammeter",
          "voltmeter",
          "load",
          "chamber",
          "thermometer",
          "room",
          "selector",
          "supply",
          "switch");

  private static final double LOAD_SWITCHING_S = 0.05;

  private final Circuit circuit;
  private final Map<String, Unit> units;
  private final Map<String, LineServer> servers = new LinkedHashMap<>();

  private SimulatedBench(
      BenchSpec spec, Map<String, Unit> units, TimeSource time, Seeds seeds, int firstPort) {
    this.units = units;
    circuit = new Circuit(spec, units, time, seeds);
    Map<String, Talker> talkers = talkers(seeds);
    int port = firstPort;
    for (String name : INSTRUMENTS) {
      servers.put(name, new LineServer(port, name, talkers.get(name)));
      port = firstPort == 0 ? 0 : port + 1;
    }
  }

  /**
   * Starts a bench.
   *
   * @param spec the distributions that its errors are drawn from
   * @param kinds the kind of each unit by its switch position; at least one
   * @param time the clock; instruments book on it the time that they are busy
   * @param seeds what units and errors are drawn with
   * @param firstPort the port of the first instrument, the others following; 0 for any free ports
   * @return the running bench
   */
  public static SimulatedBench start(
      BenchSpec spec, Map<String, UnitSpec> kinds, TimeSource time, Seeds seeds, int firstPort) {
    Map<String, Unit> units = new LinkedHashMap<>();
    kinds.forEach(
        (position, kind) -> units.put(position, new Unit(kind, seeds.derive("unit " + position))));
    return new SimulatedBench(spec, units, time, seeds, firstPort);
  }

  private Map<String, Talker> talkers(Seeds seeds) {
    Map<String, Talker> talkers = new LinkedHashMap<>();
    talkers.put("ammeter", new SimMeter(circuit, SimMeter.Kind.CURRENT, seeds));
    talkers.put("voltmeter", new SimMeter(circuit, SimMeter.Kind.VOLTAGE, seeds));
    talkers.put("load", load(seeds.stream("load")));
    talkers.put("chamber", chamber(seeds.stream("chamber")));
    talkers.put("thermometer", thermometer(seeds.stream("thermometer")));
    talkers.put("room", room());
    talkers.put("selector", selector());
    talkers.put("supply", new SimSupply(circuit));
    talkers.put("switch", new SimSwitch(circuit));
    return talkers;
  }

  private static String identity(String model) {
    return "Fennick " + model + " SIMULATED (Millrace simulated bench)";
  }

  private PlainTalk load(SplittableRandom draw) {
    double[] error = new double[9];
    for (int i = 0; i < error.length; i++) {
      error[i] = Unit.between(draw, circuit.spec().loadOfReading());
    }
    double residual = 0.01 + Unit.between(draw, 0.005);
    double[] set = {0};
    return new PlainTalk(circuit, identity("DL-7"))
        .takesNumber(
            "R",
            0,
            1e9,
            ohm -> {
              circuit.busy(LOAD_SWITCHING_S);
              set[0] = ohm;
              circuit.load(actual(ohm, error) + residual);
            })
        .asks("R", () -> Numbers.print(set[0]))
        .takes(
            "SHORT",
            a -> {
              if (!a.equals("ON") && !a.equals("OFF")) {
                return Optional.of("ON or OFF");
              }
              circuit.busy(LOAD_SWITCHING_S);
              circuit.shorted(a.equals("ON"));
              return Optional.empty();
            });
  }

  /** Each decade has an error of its own. */
  private static double actual(double ohm, double[] error) {
    if (ohm <= 0) {
      return 0;
    }
    int decade = (int) Math.floor(Math.log10(ohm)) + 1;
    return ohm * (1 + error[Math.max(0, Math.min(error.length - 1, decade))]);
  }

  private PlainTalk chamber(SplittableRandom draw) {
    double offset = Unit.between(draw, circuit.spec().chamberK());
    return new PlainTalk(circuit, identity("TC-40"))
        .takesNumber(
            "SET",
            -60,
            150,
            degC -> {
              circuit.climate().advanceTo(circuit.time().elapsed());
              circuit.climate().setpoint(degC);
            })
        .asks("SET", () -> Numbers.print(circuit.climate().setpoint()))
        .takesNumber(
            "RAMP",
            0.01,
            20,
            perMinute -> {
              circuit.climate().advanceTo(circuit.time().elapsed());
              circuit.climate().ramp(perMinute / 60);
            })
        .asks("TEMP", () -> degrees(air() + offset, 2));
  }

  private double air() {
    circuit.climate().advanceTo(circuit.time().elapsed());
    return circuit.climate().airDegC();
  }

  private static String degrees(double degC, int decimals) {
    return Numbers.fixed(degC, decimals);
  }

  private PlainTalk thermometer(SplittableRandom draw) {
    double offset = Unit.between(draw, circuit.spec().unitThermometerK());
    return new PlainTalk(circuit, identity("PT-2"))
        .asks(
            "TEMP",
            () -> {
              circuit.busy(0.05);
              circuit.climate().advanceTo(circuit.time().elapsed());
              double degC = circuit.climate().unitDegC() + offset + 0.002 * circuit.gaussian();
              return degrees(degC, 3) + " C";
            });
  }

  private PlainTalk room() {
    return new PlainTalk(circuit, identity("RM-1"))
        .asks("TEMP", () -> degrees(roomDegC(), 2))
        .asks("HUM", () -> Numbers.fixed(44 + Math.sin(circuit.nowS() / 5000), 1));
  }

  private double roomDegC() {
    return 22.8 + 0.3 * Math.sin(circuit.nowS() / 7000) + 0.01 * circuit.gaussian();
  }

  private PlainTalk selector() {
    String[] selected = {""};
    return new PlainTalk(circuit, identity("RS-5"))
        .takes(
            "RANGE",
            name -> {
              if (!circuit.knows(name)) {
                return Optional.of("no such range");
              }
              circuit.busy(0.01);
              circuit.range(name);
              selected[0] = name;
              return Optional.empty();
            })
        .asks("RANGE", () -> selected[0])
        .takes(
            "SOURCE",
            a -> {
              if (!a.equals("ON") && !a.equals("OFF")) {
                return Optional.of("ON or OFF");
              }
              circuit.busy(0.01);
              circuit.source(a.equals("ON"));
              return Optional.empty();
            })
        .asks("SOURCE", () -> circuit.sourceOn() ? "ON" : "OFF");
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
   * @param position one of those that the bench was started with
   * @return the unit
   */
  public Unit unit(String position) {
    Unit unit = units.get(position);
    if (unit == null) {
      throw new IllegalArgumentException("no unit at position '" + position + "'");
    }
    return unit;
  }

  /**
   * What must never happen and did.
   *
   * @return one text each, in order; empty on a good bench
   */
  public List<String> mishaps() {
    synchronized (circuit.lock()) {
      return circuit.mishaps();
    }
  }

  /**
   * Tells whether the bench is as a person would want to find it in the morning: source and supply
   * off, chamber going to room temperature.
   *
   * @return what is not safe; empty if all is
   */
  public List<String> unsafe() {
    synchronized (circuit.lock()) {
      List<String> found = new ArrayList<>();
      if (circuit.sourceOn()) {
        found.add("the source is on");
      }
      if (circuit.supplyOn()) {
        found.add("the supply is on");
      }
      if (Math.abs(circuit.climate().setpoint() - Unit.REFERENCE_DEGC) > 3) {
        found.add("the chamber is set to " + Numbers.print(circuit.climate().setpoint()) + " degC");
      }
      return found;
    }
  }

  @Override
  public void close() {
    servers.values().forEach(LineServer::close);
  }
}
