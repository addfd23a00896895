// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;
import millrace.sequence.Plan.TemperatureRule;

/**
 * How fast a bench is: what a schedule needs to know of it and of the unit on it. Immutable.
 *
 * @param lineHz line frequency, Hz, above 0, for integration times
 * @param mostKPerS the fastest ramp that its chamber is set to, K/s, above 0; infinite where
 *     nothing bounds it
 * @param perReadingS time of a reading beside its integration, for its transfer, s, 0 or more
 * @param scatter how readings scatter, which a settle rule waits for
 * @param chargeS the time, s, that its cable takes to charge at a load, ohm
 * @param unitPerK how much the current of the unit changes with its temperature in the range where
 *     it does most, a ratio per K, 0 or more; empty where no earlier run tells
 */
public record BenchSpeeds(
    double lineHz,
    double mostKPerS,
    double perReadingS,
    ReadingScatter scatter,
    DoubleUnaryOperator chargeS,
    OptionalDouble unitPerK) {
  /** Autozero: a meter takes a zero of its own with each reading. */
  private static final double INTEGRATIONS = 2;

  /** How much the readings of a current are expected to scatter: what a settle rule waits for. */
  public interface ReadingScatter {
    /**
     * The meter's own noise in the range that it takes for a current.
     *
     * @param nominalA the nominal current, A, of either sign
     * @param lineCycles line cycles of a reading, above 0
     * @return standard deviation of a reading, A; empty if it is not known
     */
    OptionalDouble ofMeterA(double nominalA, double lineCycles);

    /**
     * The white noise of the unit's current.
     *
     * @param range the range of the unit
     * @param seconds the integration time of a reading, s, above 0
     * @return standard deviation, a ratio of the current
     */
    double ofUnit(String range, double seconds);
  }

  /** Checks the ranges. */
  public BenchSpeeds {
    if (!(lineHz > 0 && mostKPerS > 0 && perReadingS >= 0)) {
      throw new IllegalArgumentException(
          "a line of %s Hz, a ramp of %s K/s and %s s beside a reading; expected the first two above 0, the last 0 or more"
              .formatted(lineHz, mostKPerS, perReadingS));
    }
  }

  /**
   * The same bench with a unit like that of an earlier run.
   *
   * @param other how its readings scatter
   * @param perK its change with temperature, a ratio per K; empty where it is not known
   * @return the other bench
   */
  public BenchSpeeds with(ReadingScatter other, OptionalDouble perK) {
    return new BenchSpeeds(lineHz, mostKPerS, perReadingS, other, chargeS, perK);
  }

  /**
   * How long a meter takes for a reading, with the zero of its own that it takes beside.
   *
   * @param lineCycles that it integrates
   * @return s
   */
  public double readingS(double lineCycles) {
    return INTEGRATIONS * lineCycles / lineHz + perReadingS;
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
