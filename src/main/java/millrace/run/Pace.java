package millrace.run;

import millrace.bench.BenchFile;
import millrace.bench.role.RoleName;
import millrace.sequence.Plan.TemperatureRule;

/**
 * How fast a bench goes: what a schedule needs to know of it. Immutable.
 *
 * @param lineHz line frequency, Hz, above 0, for integration times
 * @param mostKPerS the fastest ramp that its chamber is told, K/s, above 0; infinite where nothing
 *     bounds it
 */
public record Pace(double lineHz, double mostKPerS) {
  /** A chamber that keeps its ramp must not trip the interlock on its rate by overshoot. */
  private static final double RAMP_OF_BOUND = 0.5;

  /** Checks the ranges. */
  public Pace {
    if (!(lineHz > 0 && mostKPerS > 0)) {
      throw new IllegalArgumentException(
          "a line of %s Hz and a ramp of %s K/s; expected both above 0"
              .formatted(lineHz, mostKPerS));
    }
  }

  /**
   * The pace of a bench.
   *
   * @param bench says what its chamber may be told, and how fast it may change at most
   * @return its pace
   */
  public static Pace of(BenchFile bench) {
    double told =
        bench
            .facts(RoleName.CHAMBER)
            .flatMap(facts -> facts.allowed().mostKPerS())
            .orElse(Double.POSITIVE_INFINITY);
    double bound =
        bench.interlocks().chamber().mostKPerS().orElse(Double.POSITIVE_INFINITY) * RAMP_OF_BOUND;
    return new Pace(bench.lineFrequencyHz(), Math.min(told, bound));
  }

  /** What the chamber is told at a temperature, K/s; infinite for as fast as it can. */
  double rampKPerS(TemperatureRule rule) {
    return Math.min(mostKPerS, rule.rampKPerS());
  }
}
