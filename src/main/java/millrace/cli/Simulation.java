package millrace.cli;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import millrace.sim.SimulatedBench;
import millrace.time.Seeds;
import millrace.time.TimeSource;
import millrace.time.VirtualClock;

/** The simulated bench of this process, with the bench file that goes with it. */
final class Simulation implements AutoCloseable {
  /** What its bench file is called. */
  static final String NAME = "simulated-bench.yaml";

  private final long seed;
  private final VirtualClock time;
  private final SimulatedBench bench;

  private Simulation(long seed, VirtualClock time) {
    this.seed = seed;
    this.time = time;
    this.bench = SimulatedBench.start(SimulatedBench.Settings.demo(new Seeds(seed)), time);
  }

  static Simulation start(long seed, Instant start, Duration elapsed) {
    return new Simulation(seed, new VirtualClock(start, elapsed));
  }

  long seed() {
    return seed;
  }

  TimeSource time() {
    return time;
  }

  /** The bench file with the ports that are in use. */
  String benchFile() {
    return filledIn(bench.ports());
  }

  /** The bench file of the simulated bench with some ports. */
  static String filledIn(Map<String, Integer> ports) {
    String text = template();
    for (Map.Entry<String, Integer> port : ports.entrySet()) {
      text = text.replace("${" + port.getKey() + "}", String.valueOf(port.getValue()));
    }
    return text;
  }

  /** The bench file with ports that nothing listens at, for what only reads it. */
  static String anyPorts() {
    Map<String, Integer> ports = new java.util.LinkedHashMap<>();
    SimulatedBench.INSTRUMENTS.forEach(name -> ports.put(name, ports.size() + 1));
    return filledIn(ports);
  }

  private static String template() {
    try (InputStream in = Simulation.class.getResourceAsStream(NAME)) {
      if (in == null) {
        throw new IllegalStateException("the resource " + NAME + " is missing");
      }
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new java.io.UncheckedIOException(e);
    }
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
