// SPDX-License-Identifier: Apache-2.0
package millrace.run.soak;

import millrace.bench.BenchFile;
import millrace.bench.role.RoleName;
import millrace.sequence.BenchSpeeds;

/** How fast a bench goes, as its file says. */
public final class BenchSpeedsFromFile {
  /** A chamber that keeps its ramp must not trip the interlock on its rate by overshoot. */
  private static final double RAMP_OF_BOUND = 0.5;

  private BenchSpeedsFromFile() {}

  /**
   * The pace of a bench.
   *
   * @param bench says what its chamber may be told, and how fast it may change at most
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
