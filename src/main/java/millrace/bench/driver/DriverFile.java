package millrace.bench.driver;

import com.google.re2j.Pattern;
import java.time.Duration;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.bench.role.MeterRange;
import millrace.bench.role.RoleName;

/**
 * A driver file: data for the one class that speaks text protocols.
 *
 * @param name the name by which bench files ask for it
 * @param identity how it is asked who it is; empty if it cannot say
 * @param lineEnding what is sent behind each command
 * @param replyWithin how long to wait for a reply
 * @param errors how its complaints are read; empty if it keeps none
 * @param overload numbers at or beyond this are an overload
 * @param overloadReply replies that mean an overload
 * @param notANumberReply replies that mean that there is no number
 * @param start what is said once after it is opened
 * @param safe what puts it in its safe state
 * @param roles what it can do
 */
public record DriverFile(
    String name,
    Optional<Identity> identity,
    String lineEnding,
    Duration replyWithin,
    Optional<Errors> errors,
    double overload,
    Optional<Pattern> overloadReply,
    Optional<Pattern> notANumberReply,
    List<Exchange> start,
    List<Exchange> safe,
    Map<RoleName, RoleCommands> roles) {

  /** The number that SCPI-1999 instruments give when a range is exceeded (vol. 1; from memory). */
  public static final double SCPI_OVERLOAD = 9.9e37;

  /** The number that SCPI-1999 instruments give when there is none (vol. 1; from memory). */
  public static final double SCPI_NOT_A_NUMBER = 9.91e37;

  /** Copies the collections. */
  public DriverFile {
    start = List.copyOf(start);
    safe = List.copyOf(safe);
    roles = new EnumMap<>(roles);
  }

  /**
   * How an instrument is asked who it is.
   *
   * @param ask the question
   * @param matches what the reply must match
   */
  record Identity(String ask, Pattern matches) {}

  /**
   * How complaints are read, one at a time, until there is none.
   *
   * @param ask the question
   * @param none the reply when there is none
   */
  record Errors(String ask, Pattern none) {}

  /**
   * What is said in one role.
   *
   * @param actions the exchanges of each action, by its name
   * @param questions the question of each number, by its name
   * @param ranges the ranges of a meter; empty for other roles
   */
  record RoleCommands(
      Map<String, List<Exchange>> actions,
      Map<String, Question> questions,
      List<MeterRange> ranges) {
    /** Copies the collections. */
    public RoleCommands {
      actions = Map.copyOf(actions);
      questions = Map.copyOf(questions);
      ranges = List.copyOf(ranges);
    }
  }
}
