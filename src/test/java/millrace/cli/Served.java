package millrace.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.sim.BenchSpec;
import millrace.sim.FaultPlan;
import millrace.sim.SimulatedBench;
import millrace.sim.UnitSpec;
import millrace.time.Seeds;
import millrace.time.VirtualClock;

/** A simulated bench on sockets of its own, with its bench file, as another process would be. */
final class Served implements AutoCloseable {
  private final SimulatedBench bench;
  private final Path file;

  private Served(SimulatedBench bench, Path file) {
    this.bench = bench;
    this.file = file;
  }

  static Served at(Path folder, FaultPlan plan) throws IOException {
    return at(folder, plan, List.of("1"));
  }

  static Served at(Path folder, FaultPlan plan, List<String> positions) throws IOException {
    VirtualClock clock = new VirtualClock(Instant.parse("2026-11-25T18:00:00Z"));
    Map<String, UnitSpec> kinds = new LinkedHashMap<>();
    positions.forEach(p -> kinds.put(p, UnitSpec.demo()));
    SimulatedBench bench =
        SimulatedBench.start(
            SimulatedBench.Settings.drawn(BenchSpec.demo(), kinds, new Seeds(7)).with(plan), clock);
    Path file = folder.resolve("served.bench.yaml");
    Files.writeString(file, SimulatedBenchFile.text(SimulatedBenchFile.sockets(bench), positions));
    return new Served(bench, file);
  }

  SimulatedBench bench() {
    return bench;
  }

  String file() {
    return file.toString();
  }

  /** Changes the bench file. */
  void rewrite(String from, String to) throws IOException {
    String text = Files.readString(file);
    if (!text.contains(from)) {
      throw new IllegalArgumentException("the bench file has no " + from);
    }
    Files.writeString(file, text.replace(from, to));
  }

  @Override
  public void close() {
    bench.close();
  }
}
