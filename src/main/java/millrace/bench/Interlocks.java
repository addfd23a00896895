// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.time.LocalTime;
import java.util.Optional;
import millrace.quantity.ClosedInterval;

/**
 * The interlocks of a bench file; each is polled between readings and during waits.
 *
 * @param chamber what bounds the chamber's temperature
 * @param unit what bounds the unit's temperature
 * @param chamberAlarm whether the chamber's own alarm is watched
 * @param terminalV largest voltage at the terminals, V
 * @param supplyA largest current from the supply, A
 * @param humidity of the room, ratios
 * @param dewMarginK how far above the room's dew point everything in the chamber must stay while
 *     its door is open, K, 0 or more
 * @param hours when the bench may be at work; empty for at any time
 * @param freeDiskBytes least free space beside the logbook, bytes
 * @param silenceS longest time without a good reading, s
 * @param pollS the polling period, s, above 0
 */
public record Interlocks(
    Warmth chamber,
    Warmth unit,
    boolean chamberAlarm,
    Optional<Double> terminalV,
    Optional<Double> supplyA,
    Optional<ClosedInterval> humidity,
    Optional<Double> dewMarginK,
    Optional<Hours> hours,
    Optional<Double> freeDiskBytes,
    Optional<Double> silenceS,
    double pollS) {
  /** Nothing watched. */
  public static final Interlocks NONE =
      new Interlocks(
          Warmth.ANY,
          Warmth.ANY,
          false,
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          10);

  /**
   * Bounds on a temperature and its change.
   *
   * @param degC the temperature, degC
   * @param mostKPerS fastest change from one look to the next, up or down, K/s, above 0
   */
  public record Warmth(Optional<ClosedInterval> degC, Optional<Double> mostKPerS) {
    /** Not watched. */
    public static final Warmth ANY = new Warmth(Optional.empty(), Optional.empty());

    /**
     * Tells whether anything is watched.
     *
     * @return true if there is a bound
     */
    public boolean bounded() {
      return degC.isPresent() || mostKPerS.isPresent();
    }
  }

  /**
   * A part of the day by the local wall clock, over midnight where it ends before it begins.
   *
   * @param from its first instant
   * @param until its end, which is outside
   */
  public record Hours(LocalTime from, LocalTime until) {
    /** Checks that there is a span. */
    public Hours {
      if (from.equals(until)) {
        throw new IllegalArgumentException(
            "hours from %s to %s; expected two times that differ".formatted(from, until));
      }
    }

    /**
     * Tells whether a time lies inside.
     *
     * @param time of the day
     * @return true if inside
     */
    public boolean contains(LocalTime time) {
      boolean begun = !time.isBefore(from);
      boolean open = time.isBefore(until);
      return from.isBefore(until) ? begun && open : begun || open;
    }

    /**
     * Their length on a day without change of the clocks.
     *
     * @return seconds, above 0, below a day
     */
    public double spanS() {
      int seconds = until.toSecondOfDay() - from.toSecondOfDay();
      return seconds > 0 ? seconds : seconds + 86_400;
    }

    @Override
    public String toString() {
      return from + " to " + until;
    }
  }
}
