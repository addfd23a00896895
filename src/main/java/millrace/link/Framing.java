// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.time.Duration;
import java.util.Optional;
import java.util.function.Predicate;

/**
 * How commands and replies end, how long replies may be, and how to resynchronize.
 *
 * <p>Immutable; thread-safe if the predicate of the step is.
 *
 * @param commandEnd what is sent after each command: LF, CR, CRLF or nothing
 * @param replyEnd what ends a reply
 * @param mostReplyBytes the longest reply that is taken; 1 to 16777216
 * @param silence how long nothing must come for a reply to count as ended, where {@link
 *     ReplyEnd#SILENCE} ends it; above zero
 * @param step the query that proves that no late reply is pending; empty: by waiting only
 */
public record Framing(
    String commandEnd,
    ReplyEnd replyEnd,
    int mostReplyBytes,
    Duration silence,
    Optional<Step> step) {
  /** The longest reply that can be asked for. */
  public static final int MOST_BYTES = 16_777_216;

  /** LF behind commands, replies of up to 64 KiB that end with CR, LF or both. */
  public static final Framing LINES =
      new Framing("\n", ReplyEnd.ANY, 65_536, Duration.ofMillis(50), Optional.empty());

  /** Frames of Modbus RTU: what is asked and answered are hex digits without check bytes. */
  public static final Framing MODBUS_RTU =
      new Framing(
          "", ReplyEnd.MODBUS_RTU, RtuFrame.MOST_BYTES, Duration.ofMillis(50), Optional.empty());

  /**
   * A query whose answer no other reply can be mistaken for. After an error it is sent, and
   * everything before its answer is dropped.
   *
   * @param question the question, such as that for the identity
   * @param lines how many lines its answer has, 1 or more
   * @param wanted what its answer is, a part of a sentence for whoever gets another
   * @param answer tells whether so many lines, joined by LF, answer it
   */
  public record Step(String question, int lines, String wanted, Predicate<String> answer) {}

  /** Checks what the components promise. */
  public Framing {
    if (!commandEnd.matches("\\r?\\n?")) {
      throw new IllegalArgumentException(
          "commands end with %s; expected LF, CR, CRLF or nothing"
              .formatted(WireText.quoted(commandEnd)));
    }
    if (mostReplyBytes < 1 || mostReplyBytes > MOST_BYTES) {
      throw new IllegalArgumentException(
          "a reply may be %s bytes long; expected 1 to %s".formatted(mostReplyBytes, MOST_BYTES));
    }
    if (silence.toNanos() <= 0) {
      throw new IllegalArgumentException("a silence of " + silence + "; expected above zero");
    }
  }

  /** What takes one reply after another. */
  ReplyFrame frame() {
    return rtu() ? new RtuFrame() : new LineFrame(replyEnd, mostReplyBytes);
  }

  /**
   * Tells whether commands and replies are frames of Modbus RTU, written as hex digits.
   *
   * @return true if so
   */
  public boolean rtu() {
    return replyEnd == ReplyEnd.MODBUS_RTU;
  }

  /**
   * The same with another end of replies.
   *
   * @param end what ends a reply
   * @return the framing
   */
  public Framing ending(ReplyEnd end) {
    return new Framing(commandEnd, end, mostReplyBytes, silence, step);
  }

  /**
   * The same with a bound on replies.
   *
   * @param mostBytes the longest reply that is taken
   * @return the framing
   */
  public Framing atMost(int mostBytes) {
    return new Framing(commandEnd, replyEnd, mostBytes, silence, step);
  }

  /**
   * The same with a way to resynchronize.
   *
   * @param by the question that proves it
   * @return the framing
   */
  public Framing inStepBy(Step by) {
    return new Framing(commandEnd, replyEnd, mostReplyBytes, silence, Optional.of(by));
  }
}
