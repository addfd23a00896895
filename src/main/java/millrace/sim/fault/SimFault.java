// SPDX-License-Identifier: Apache-2.0
package millrace.sim.fault;

import java.time.Duration;
import java.util.List;
import java.util.Locale;

/**
 * One thing that goes wrong on a simulated bench.
 *
 * @param kind what goes wrong
 * @param instrument on which instrument; for what befalls the bench, the one that it befalls first
 * @param when from when on
 * @param times how many replies it spoils, 1 or more; does not count for what befalls the bench
 * @param size how much, as the kind says; above 0 except for offsets, jumps and wild readings
 * @param lasting how long it stays with the bench, zero for good; does not count for links
 */
public record SimFault(
    Kind kind, String instrument, When when, int times, double size, Duration lasting) {

  /** Checks what the components promise. */
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
   * @param kind what goes wrong
   * @param instrument on which instrument
   * @param when from when on
   * @return the fault
   */
  public static SimFault of(Kind kind, String instrument, When when) {
    return new SimFault(kind, instrument, when, 1, kind.usualSize(), Duration.ZERO);
  }

  /** From when on a fault strikes. */
  public sealed interface When permits AtQuestion, AtTime {}

  /**
   * At a line that the instrument hears.
   *
   * @param number which one since the start, 1 or more
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

  /** What can go wrong. Sizes in seconds of links are real time; those of the bench its own. */
  public enum Kind {
    /** The line is obeyed and not answered. */
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
    /** Another instrument answers to the question who it is. */
    WRONG_IDENTITY(1),
    /** Connections are refused for so many real seconds. */
    REFUSED(0.3),
    /** The connection is reset. */
    RESET(1),
    /** The connection stays, and nobody is there any more. */
    HALF_OPEN(1),
    /** The error queue is full, or the next words are refused. */
    ERROR_QUEUE(1),
    /** A reading beyond the range. */
    OVERLOAD(1),
    /** A reading that says it is none. */
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
    /** All settings are forgotten, connections reset and refused for so many real seconds. */
    REBOOT(0.3),
    /** The chamber does not move any more. */
    CHAMBER_STUCK(1, "chamber"),
    /** The air goes so many kelvin farther than usual. */
    CHAMBER_OVERSHOOTS(6, "chamber"),
    /** The chamber's own protection has tripped: it says so, and goes nowhere any more. */
    CHAMBER_ALARM(1, "chamber"),
    /** The door is open. */
    DOOR_OPEN(1, "chamber"),
    /** A thermometer shows so many kelvin too much. */
    SENSOR_OFFSET(2, "chamber", "thermometer"),
    /** The unit's leads are reversed. */
    LEADS_REVERSED(1, "ammeter"),
    /** A lead of the unit is open; its terminals go to the rail. */
    LEAD_OPEN(1, "load"),
    /** A relay of the load sticks: so many ohm more are in the loop than it says. */
    RELAY_STUCK(100, "load"),
    /** The current meter's fuse is blown, and it does not say so. */
    FUSE_BLOWN(1, "ammeter"),
    /** The current meter sits across the output, beside the load. */
    METER_ACROSS_OUTPUT(1, "ammeter"),
    /** The first two units sit in one another's slots. */
    SLOTS_SWAPPED(1, "switch"),
    /** The thermometer of the unit lies in the air of the room. */
    THERMOMETER_ASIDE(1, "thermometer"),
    /** The unit that is connected gives no current any more. */
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
     * The size where none is given.
     *
     * @return in the unit that the kind says
     */
    public double usualSize() {
      return usualSize;
    }

    /**
     * What it can befall.
     *
     * @return names of instruments; empty for any
     */
    public List<String> targets() {
      return targets;
    }

    /**
     * Tells what befalls the bench from what befalls a link.
     *
     * @return true for the bench
     */
    public boolean befallsBench() {
      return !targets.isEmpty();
    }
  }
}
