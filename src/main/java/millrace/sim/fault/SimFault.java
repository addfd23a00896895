// SPDX-License-Identifier: Apache-2.0
package millrace.sim.fault;

import java.time.Duration;
import java.util.List;
import java.util.Locale;

/**
 * A fault of a simulated bench.
 *
 * @param kind the kind of fault
 * @param instrument the instrument; for a fault of the bench, the one affected first
 * @param when its beginning
 * @param times the number of replies it affects, 1 or more; ignored for a fault of the bench
 * @param size its size, as the kind defines it; above 0 except for offsets, jumps and wild readings
 * @param lasting its duration on the bench, zero for good; ignored for links
 */
public record SimFault(
    Kind kind, String instrument, When when, int times, double size, Duration lasting) {

  /** Checks the components. */
  public SimFault {
    if (!SimInstrumentNames.NAMES.contains(instrument)) {
      throw new IllegalArgumentException(
          "a fault on '%s'; expected one of %s".formatted(instrument, SimInstrumentNames.NAMES));
    }
    if (!kind.targets().isEmpty() && !kind.targets().contains(instrument)) {
      throw new IllegalArgumentException(
          "'%s' on '%s'; expected one of %s".formatted(kind.text(), instrument, kind.targets()));
    }
    if (kind.befallsBench() && when instanceof AtQuestion) {
      throw new IllegalArgumentException(
          "'%s' at a question; expected a time, as it befalls the bench".formatted(kind.text()));
    }
    if (times < 1) {
      throw new IllegalArgumentException("a fault %s times; expected 1 or more".formatted(times));
    }
  }

  /**
   * A fault of its usual size, once or for good.
   *
   * @param kind the kind of fault
   * @param instrument the instrument
   * @param when its beginning
   * @return the fault
   */
  public static SimFault of(Kind kind, String instrument, When when) {
    return new SimFault(kind, instrument, when, 1, kind.usualSize(), Duration.ZERO);
  }

  /** The beginning of a fault. */
  public sealed interface When permits AtQuestion, AtTime {}

  /**
   * At a line that the instrument receives.
   *
   * @param number the number of the line since the start, 1 or more
   */
  public record AtQuestion(int number) implements When {
    /** Checks the number. */
    public AtQuestion {
      if (number < 1) {
        throw new IllegalArgumentException("question %s; expected 1 or more".formatted(number));
      }
    }
  }

  /**
   * At a time of the bench's clock.
   *
   * @param elapsed since the clock's start
   */
  public record AtTime(Duration elapsed) implements When {}

  /**
   * The kinds of fault. Sizes in seconds are real time for links, and the bench's own time for the
   * bench.
   */
  public enum Kind {
    /** The line is executed and not answered. */
    SILENCE(1),
    /** The first half of the reply, and no end of line. */
    HALF_A_LINE(1),
    /** The reply twice in one piece. */
    TWO_REPLIES(1),
    /** The reply comes after so many real seconds. */
    LATE_REPLY(1.5),
    /** Bytes of any value in place of the reply. */
    GARBAGE(1),
    /** So many bytes without an end of line. */
    ENDLESS_LINE(10e6),
    /** Another instrument answers the identity query. */
    WRONG_IDENTITY(1),
    /** Connections are refused for so many real seconds. */
    REFUSED(0.3),
    /** The connection is reset. */
    RESET(1),
    /** The connection stays open without anyone answering. */
    HALF_OPEN(1),
    /** The error queue is full, or the next words are refused. */
    ERROR_QUEUE(1),
    /** A reading beyond the range. */
    OVERLOAD(1),
    /** A reading that is not a number. */
    NOT_A_NUMBER(1),
    /** A reading with a decimal comma. */
    DECIMAL_COMMA(1),
    /** A reading that is off by this ratio. */
    WILD_READING(1e-3),
    /** The reply ends with CR. */
    ENDS_WITH_CR(1),
    /** The reply ends with LF. */
    ENDS_WITH_LF(1),
    /** The reply ends with CR and LF. */
    ENDS_WITH_CRLF(1),
    /** The reply has no end. */
    ENDS_WITH_NOTHING(1),
    /** All settings are lost, connections reset and refused for so many real seconds. */
    REBOOT(0.3),
    /** The chamber no longer moves. */
    CHAMBER_STUCK(1, "chamber"),
    /** The air overshoots by so many kelvin more than usual. */
    CHAMBER_OVERSHOOTS(6, "chamber"),
    /** The chamber's own protection has tripped: it reports this and stops controlling. */
    CHAMBER_ALARM(1, "chamber"),
    /** The door is open. */
    DOOR_OPEN(1, "chamber"),
    /** A thermometer shows so many kelvin too much. */
    SENSOR_OFFSET(2, "chamber", "thermometer"),
    /** The unit's leads are reversed. */
    LEADS_REVERSED(1, "ammeter"),
    /** A lead of the unit is open; its terminals go to the rail. */
    LEAD_OPEN(1, "load"),
    /** A relay of the load sticks: the loop contains so many ohm more than the setting. */
    RELAY_STUCK(100, "load"),
    /** The current meter's fuse is blown, and the meter does not report it. */
    FUSE_BLOWN(1, "ammeter"),
    /** The current meter is connected across the output, beside the load. */
    METER_ACROSS_OUTPUT(1, "ammeter"),
    /** The first two units are in each other's slots. */
    SLOTS_SWAPPED(1, "switch"),
    /** The thermometer of the unit is in the air of the room. */
    THERMOMETER_ASIDE(1, "thermometer"),
    /** The connected unit gives no more current. */
    UNIT_DIES(1, "selector"),
    /** The current follows with a time constant of so many seconds. */
    SLOW_SOURCE(0.25, "selector"),
    /** The wall clock jumps by so many seconds; only where the bench is in virtual time. */
    CLOCK_JUMP(3600, "switch");

    private final double usualSize;
    private final List<String> targets;

    Kind(double usualSize, String... targets) {
      this.usualSize = usualSize;
      this.targets = List.of(targets);
    }

    /**
     * The word in a file.
     *
     * @return such as {@code late reply}
     */
    public String text() {
      return name().toLowerCase(Locale.ROOT).replace('_', ' ');
    }

    /**
     * The size without a given one.
     *
     * @return in the unit of the kind
     */
    public double usualSize() {
      return usualSize;
    }

    /**
     * The instruments that it can affect.
     *
     * @return names of instruments; empty for any
     */
    public List<String> targets() {
      return targets;
    }

    /**
     * Distinguishes a fault of the bench from a fault of a link.
     *
     * @return true for the bench
     */
    public boolean befallsBench() {
      return !targets.isEmpty();
    }
  }
}
