// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.night.SimulatedBenchFile;
import millrace.sim.SimulatedBench;
import millrace.sim.fault.FaultPlan;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.sim.truth.SimulatedUnitSpec;
import millrace.time.Seeds;
import millrace.time.SystemClock;

/**
 * A simulated bench on sockets of its own, with its bench file, as another process would be. Its
 * certificates hold for longer than anyone will run these tests.
 */
final class Served implements AutoCloseable {
  /** How many times faster than real its clock runs; what a command must be given too. */
  static final int SPEED = 1000;

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
    return at(folder, plan, positions, SimulatedBenchSpec.demo());
  }

  /** The same with another clock. */
  static Served slower(Path folder, int speed) throws IOException {
    return at(
        folder, FaultPlan.NONE, List.of("1"), SimulatedBenchSpec.demo(), new SystemClock(speed));
  }

  /** With the voltmeter at the unit's terminals, before the current meter. */
  static Served upstream(Path folder, FaultPlan plan) throws IOException {
    SimulatedBenchSpec.WiringSpec wiring = new SimulatedBenchSpec.WiringSpec(0.15, 0.2, 1e14, true);
    Served served = at(folder, plan, List.of("1"), SimulatedBenchSpec.demo().with(wiring));
    served.rewrite("voltmeter: across load", "voltmeter: upstream");
    return served;
  }

  private static Served at(
      Path folder, FaultPlan plan, List<String> positions, SimulatedBenchSpec spec)
      throws IOException {
    return at(folder, plan, positions, spec, new SystemClock(SPEED));
  }

  private static Served at(
      Path folder,
      FaultPlan plan,
      List<String> positions,
      SimulatedBenchSpec spec,
      SystemClock clock)
      throws IOException {
    Map<String, SimulatedUnitSpec> kinds = new LinkedHashMap<>();
    positions.forEach(p -> kinds.put(p, SimulatedUnitSpec.demo()));
    SimulatedBench bench =
        SimulatedBench.start(
            SimulatedBench.Settings.drawn(spec, kinds, new Seeds(7)).with(plan), clock);
    Path file = folder.resolve("served.bench.yaml");
    String text = SimulatedBenchFile.text(SimulatedBenchFile.sockets(bench), positions);
    Files.writeString(file, text.replace("due: 2027-", "due: 2999-"));
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
