// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import millrace.bench.BenchFile;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.sim.truth.SimulatedBenchSpec;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A loop that leaks to ground past the meter; the truth is the simulated unit's own. */
@Timeout(120)
class LeakingLoopIT {
  private static final String SWEEP =
      """
      sequence: a leaking loop
      readings: {count: 5, line cycles: 10}
      settle: {wait: 100 ms}
      steps:
        - in ranges: [1uA]
          do:
            - zero
            - over loads: {share of compliance: {from: 0 %, to: 80 %, points: 5}}
              sweep: both
      """;

  @TempDir private Path folder;

  private static Result conductance(SimulatedNight night, BenchFile bench) {
    return night.assessed(bench).results().stream()
        .filter(r -> r.quantity() == ResultQuantity.OUTPUT_CONDUCTANCE)
        .findFirst()
        .orElseThrow();
  }

  private static boolean holds(Result result, double truth) {
    ComputationOutcome.Uncertainty u =
        ((ComputationOutcome.Value) result.outcome()).uncertainty().orElseThrow();
    return u.lower() <= truth && truth <= u.upper();
  }

  @Test
  void whatLeaksIsInTheBudgetWhereTheBenchFileStatesTheInsulation() throws IOException {
    SimulatedBenchSpec leaking =
        SimulatedBenchSpec.demo().with(new SimulatedBenchSpec.WiringSpec(0.15, 0.2, 3e11, false));
    try (SimulatedNight night = SimulatedNight.of(folder, SWEEP, leaking)) {
      night.run();
      double truth = night.bench().unit("1").truth("1uA", 23).outputConductanceS();
      Result unaware = conductance(night, night.file());
      assertTrue(!holds(unaware, truth), unaware + " for " + truth);
      Result aware =
          conductance(
              night, SimulatedNight.edited(night, "insulation: 100 Tohm", "insulation: 200 Gohm"));
      assertTrue(holds(aware, truth), aware + " for " + truth);
      assertEquals("insulation leakage", aware.budget().get(0).component());
    }
  }
}
