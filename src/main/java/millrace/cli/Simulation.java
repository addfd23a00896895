package millrace.cli;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.datasheet.Datasheet;
import millrace.sim.BenchSpec;
import millrace.sim.SimulatedBench;
import millrace.time.Seeds;
import millrace.time.TimeSource;
import millrace.time.VirtualClock;

/** The simulated bench of this process, with the bench file that goes with it. */
final class Simulation implements AutoCloseable {
  /** What its bench file is called. */
  static final String NAME = "simulated-bench.yaml";

  private static final List<String> POSITIONS = List.of("1");

  private final long seed;
  private final VirtualClock time;
  private final SimulatedBench bench;

  private Simulation(long seed, VirtualClock time, Datasheet datasheet) {
    this.seed = seed;
    this.time = time;
    this.bench =
        SimulatedBench.start(
            SimulatedBench.Settings.drawn(
                BenchSpec.demo(),
                Map.of(POSITIONS.get(0), SimulatedUnits.of(datasheet)),
                new Seeds(seed)),
            time);
  }

  static Simulation start(long seed, VirtualClock time, Datasheet datasheet) {
    return new Simulation(seed, time, datasheet);
  }

  long seed() {
    return seed;
  }

  TimeSource time() {
    return time;
  }

  /** The bench file with the ports that are in use. */
  String benchFile() {
    return SimulatedBenchFile.text(SimulatedBenchFile.sockets(bench), POSITIONS);
  }

  /** The bench file with ports that nothing listens at, for what only reads it. */
  static String anyPorts() {
    Map<String, String> addresses = new LinkedHashMap<>();
    for (String name : SimulatedBench.INSTRUMENTS) {
      addresses.put(name, "tcp 127.0.0.1:" + (addresses.size() + 1));
    }
    return SimulatedBenchFile.text(addresses, POSITIONS);
  }

  /** What must never happen on a bench and did; empty after a good run. */
  List<String> mishaps() {
    return bench.mishaps();
  }

  @Override
  public void close() {
    bench.close();
  }
}
