// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import com.google.re2j.Pattern;
import java.time.Duration;
import java.util.Collections;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.bench.role.MeterRange;
import millrace.bench.role.RoleName;
import millrace.link.Framing;
import millrace.link.LinkTimeouts;

/**
 * A driver file: data for the one class that speaks text protocols.
 *
 * @param name the name by which bench files ask for it
 * @param speech how lines go over the link
 * @param identity its identity query; empty if it has none
 * @param errors how its error queue is read; empty if it has none
 * @param restart how it is asked whether it was switched off and on; empty if it cannot be asked
 * @param signs which replies are no numbers
 * @param settings the settings that a bench file may or must give, with their defaults
 * @param start what is said once after it is opened
 * @param safe what puts it in its safe state
 * @param roles what it can do
 */
public record DriverFile(
    String name,
    Speech speech,
    Optional<Identity> identity,
    Optional<Errors> errors,
    Optional<Restart> restart,
    Signs signs,
    Map<String, Optional<String>> settings,
    List<Exchange> start,
    List<Exchange> safe,
    Map<RoleName, RoleCommands> roles) {

  /** The number that SCPI-1999 instruments give when a range is exceeded (vol. 1; from memory). */
  public static final double SCPI_OVERLOAD = 9.9e37;

  /** The number that SCPI-1999 instruments give when there is none (vol. 1; from memory). */
  public static final double SCPI_NOT_A_NUMBER = 9.91e37;

  /** Copies the collections. */
  public DriverFile {
    settings = Collections.unmodifiableMap(new LinkedHashMap<>(settings));
    start = List.copyOf(start);
    safe = List.copyOf(safe);
    roles = new EnumMap<>(roles);
  }

  /**
   * The line protocol: line ends, framing, time-outs.
   *
   * @param framing how commands and replies end
   * @param timing how long to wait
   * @param checksum what is added to each message; empty for none
   * @param together what goes out before the replies are waited for
   */
  public record Speech(
      Framing framing, LinkTimeouts timing, Optional<Checksum> checksum, Together together) {
    /** Tells whether requests and replies are those of Modbus, in either of its transmissions. */
    boolean modbus() {
      return framing.rtu()
          || checksum.filter(c -> c.kind() == Checksum.Kind.MODBUS_LRC).isPresent();
    }
  }

  /**
   * The identity query.
   *
   * @param ask the question
   * @param matches what the reply must match
   * @param lines how many lines the reply has; the pattern sees them joined by LF
   */
  public record Identity(CommandTemplate ask, Pattern matches, int lines) {}

  /**
   * How the error queue is read, one error at a time, until it is empty.
   *
   * @param ask the question
   * @param none the reply when there is none
   */
  public record Errors(CommandTemplate ask, Pattern none) {}

  /**
   * How it is asked whether it was switched off and on.
   *
   * @param ask a query whose reply is a whole number, and which clears that register
   * @param bit the bit that means power-on, 0 to 30; bit 7 of the standard event status register in
   *     IEEE 488.2-1992, 11.5.1.1.1
   */
  public record Restart(CommandTemplate ask, int bit) {}

  /**
   * Which replies are no numbers.
   *
   * @param overload numbers at or beyond this are an overload
   * @param overloadReply replies that mean an overload
   * @param noNumberReply replies that mean that there is no number
   * @param notReadyReply replies that mean that the instrument is not ready and must be asked again
   * @param askAgain pause before it is asked again
   * @param readyWithin how long it is asked again
   */
  public record Signs(
      double overload,
      Optional<Pattern> overloadReply,
      Optional<Pattern> noNumberReply,
      Optional<Pattern> notReadyReply,
      Duration askAgain,
      Duration readyWithin) {}

  /**
   * The exchanges of one role.
   *
   * @param actions the exchanges of each action, by its name
   * @param questions the question of each number, by its name
   * @param readBack the settings that are read back as text, by name
   * @param ranges the ranges of a meter; empty for other roles
   * @param door asks a chamber whether its door is open; empty if it has no such query
   * @param alarm asks a chamber whether it has an alarm; empty if it has no such query
   */
  public record RoleCommands(
      Map<String, List<Exchange>> actions,
      Map<String, NumericQuery> questions,
      Map<String, Exchange.Setting> readBack,
      List<MeterRange> ranges,
      Optional<Exchange.Door> door,
      Optional<Exchange.Alarm> alarm) {
    /** Copies the collections. */
    public RoleCommands {
      actions = Map.copyOf(actions);
      questions = Collections.unmodifiableMap(new LinkedHashMap<>(questions));
      readBack = Collections.unmodifiableMap(new LinkedHashMap<>(readBack));
      ranges = List.copyOf(ranges);
    }
  }
}
