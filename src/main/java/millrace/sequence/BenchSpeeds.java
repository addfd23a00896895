// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import millrace.sequence.Plan.TemperatureRule;

/**
 * How fast a bench is: what a schedule needs to know of it. Immutable.
 *
 * @param lineHz line frequency, Hz, above 0, for integration times
 * @param mostKPerS the fastest ramp that its chamber is set to, K/s, above 0; infinite where
 *     nothing bounds it
 */
public record BenchSpeeds(double lineHz, double mostKPerS) {
  /** Checks the ranges. */
  public BenchSpeeds {
    if (!(lineHz > 0 && mostKPerS > 0)) {
      throw new IllegalArgumentException(
          "a line of %s Hz and a ramp of %s K/s; expected both above 0"
              .formatted(lineHz, mostKPerS));
    }
  }

  /**
   * The ramp that the chamber is set to for a temperature.
   *
   * @param rule how the sequence has it stayed at
   * @return K/s, above 0; infinite for as fast as it can
   */
  public double rampKPerS(TemperatureRule rule) {
    return Math.min(mostKPerS, rule.rampKPerS());
  }
}
