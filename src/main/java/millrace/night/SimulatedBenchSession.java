// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import millrace.datasheet.Datasheet;
import millrace.sim.SimulatedBench;
import millrace.sim.fault.FaultPlan;
import millrace.sim.fault.SimInstrumentNames;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.sim.truth.SimulatedUnit;
import millrace.sim.truth.SimulatedUnitSpec;
import millrace.time.Seeds;
import millrace.time.TimeSource;
import millrace.time.VirtualClock;

/** The simulated bench of this process, with its bench file. */
public final class SimulatedBenchSession implements AutoCloseable {
  /** The name of its bench file. */
  public static final String NAME = "simulated-bench.yaml";

  /** The position of a single unit. */
  public static final List<String> ONE = List.of("1");

  /** One board in this many has a defect. */
  private static final int ONE_BAD_IN = 8;

  private static final double BAD_RATIO = 6e-4;

  private final long seed;
  private final VirtualClock time;
  private final SimulatedUnitSpec kind;
  private final SimulatedBench bench;
  private final List<String> positions;

  /**
   * The kinds of bench and unit.
   *
   * @param bench the instruments
   * @param unit the unit at each position
   * @param faults the faults, with their times
   */
  public record Kinds(SimulatedBenchSpec bench, SimulatedUnitSpec unit, FaultPlan faults) {}

  private SimulatedBenchSession(long seed, VirtualClock time, Kinds of, List<String> positions) {
    this.positions = List.copyOf(positions);
    this.seed = seed;
    this.time = time;
    this.kind = of.unit();
    this.bench =
        SimulatedBench.start(
            SimulatedBench.Settings.drawn(of.bench(), kinds(), new Seeds(seed)).with(of.faults()),
            time);
  }

  /** One unit on a bench of a certain kind. */
  public static SimulatedBenchSession start(long seed, VirtualClock time, Kinds of) {
    return new SimulatedBenchSession(seed, time, of, ONE);
  }

  /** One unit at each of several positions of the switch. */
  public static SimulatedBenchSession start(
      long seed, VirtualClock time, Datasheet datasheet, FaultPlan faults, List<String> positions) {
    Kinds of =
        new Kinds(SimulatedBenchSpec.demo(), SimulatedUnitFromDatasheet.of(datasheet), faults);
    return new SimulatedBenchSession(seed, time, of, positions);
  }

  private Map<String, SimulatedUnitSpec> kinds() {
    Map<String, SimulatedUnitSpec> kinds = new LinkedHashMap<>();
    positions.forEach(p -> kinds.put(p, kind));
    return kinds;
  }

  /** Inserts another board, drawn by its serial number; some boards have a defect. */
  void insert(String serial) {
    insert(serial, List.of());
  }

  /** The same, from a lot with defects of its own; returns whether this board has one more. */
  public boolean insert(String serial, List<SimulatedUnitSpec.Defect> ofTheLot) {
    Seeds seeds = new Seeds(this.seed).derive("board " + serial);
    SplittableRandom random = seeds.stream("defect");
    List<SimulatedUnitSpec.Defect> defects = new ArrayList<>(kind.defects());
    defects.addAll(ofTheLot);
    boolean bad = random.nextInt(ONE_BAD_IN) == 0;
    if (bad) {
      SimulatedUnitSpec.Range range = kind.ranges().get(random.nextInt(kind.ranges().size()));
      double size = BAD_RATIO * (1 + random.nextDouble());
      defects.add(new SimulatedUnitSpec.Defect(range.resistor().name(), size));
    }
    put(defects, seeds);
    return bad;
  }

  /** Inserts the reference unit, which has no defect. */
  public void insertReference(String serial) {
    put(kind.defects(), new Seeds(seed).derive("board " + serial));
  }

  private void put(List<SimulatedUnitSpec.Defect> defects, Seeds seeds) {
    SimulatedUnitSpec spec =
        new SimulatedUnitSpec(
            kind.ranges(),
            kind.warmth(),
            kind.noise(),
            kind.kneeSoftnessV(),
            kind.supplyPerV(),
            defects);
    bench.insert(positions.get(0), new SimulatedUnit(spec, seeds));
  }

  long seed() {
    return seed;
  }

  TimeSource time() {
    return time;
  }

  /** The bench file with the ports that are in use. */
  String benchFile() {
    return SimulatedBenchFile.text(SimulatedBenchFile.sockets(bench), positions);
  }

  /** The bench file with ports that nothing listens at, for commands that only read it. */
  public static String anyPorts() {
    Map<String, String> addresses = new LinkedHashMap<>();
    for (String name : SimInstrumentNames.NAMES) {
      addresses.put(name, "tcp 127.0.0.1:" + (addresses.size() + 1));
    }
    return SimulatedBenchFile.text(addresses, ONE);
  }

  /** The unit, whose true values are known. */
  public SimulatedUnit unit() {
    return bench.unit(positions.get(0));
  }

  /** Forbidden events on the bench; empty after a good run. */
  public List<String> mistreatments() {
    return bench.mistreatments();
  }

  @Override
  public void close() {
    bench.close();
  }
}
