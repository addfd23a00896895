// SPDX-License-Identifier: Apache-2.0
package millrace.run.soak;

import millrace.bench.BenchFile;
import millrace.bench.role.RoleName;
import millrace.sequence.BenchSpeeds;

/** How fast a bench is, from its file. */
public final class BenchSpeedsFromFile {
  /**
   * Margin so that the overshoot of a chamber at its permitted ramp does not trip the rate
   * interlock.
   */
  private static final double RAMP_OF_BOUND = 0.5;

  private BenchSpeedsFromFile() {}

  /**
   * The speeds of a bench.
   *
   * @param bench states the fastest ramp of its chamber, and the bound on its rate of change
   * @return its pace
   */
  public static BenchSpeeds of(BenchFile bench) {
    double stated =
        bench
            .facts(RoleName.CHAMBER)
            .flatMap(facts -> facts.allowed().mostKPerS())
            .orElse(Double.POSITIVE_INFINITY);
    double bound =
        bench.interlocks().chamber().mostKPerS().orElse(Double.POSITIVE_INFINITY) * RAMP_OF_BOUND;
    return new BenchSpeeds(bench.lineFrequencyHz(), Math.min(stated, bound));
  }
}
