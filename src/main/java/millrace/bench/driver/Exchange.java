// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import com.google.re2j.Pattern;
import java.time.Duration;
import java.util.Optional;

/** One step of a conversation with an instrument: a command, a query, or a wait. */
sealed interface Exchange {
  /** Whether it asks once, in the usual time, and has one line for a reply. */
  default boolean hasOneLine() {
    return false;
  }

  /**
   * A command without a reply.
   *
   * @param text with placeholders
   */
  record Send(CommandTemplate text) implements Exchange {}

  /**
   * A question whose reply must match.
   *
   * @param text with placeholders
   * @param expect the pattern that the reply must match, with placeholders; empty for any reply
   * @param until if present, the question is repeated until the reply matches, at most this long
   * @param every pause between repetitions
   * @param within how long to wait for the reply; empty for the driver's usual
   * @param extent what the reply consists of
   */
  record Ask(
      CommandTemplate text,
      Optional<CommandTemplate> expect,
      Optional<Duration> until,
      Duration every,
      Optional<Duration> within,
      ReplyExtent extent)
      implements Exchange {
    @Override
    public boolean hasOneLine() {
      return until.isEmpty() && within.isEmpty() && extent.equals(ReplyExtent.LINE);
    }
  }

  /**
   * A question whose reply must be the number that was set.
   *
   * @param placeholder what was set
   * @param question asks for it
   * @param ratio by how much of it the reply may differ
   * @param absolute by how much more, base units
   */
  record Confirm(String placeholder, NumericQuery question, double ratio, double absolute)
      implements Exchange {
    @Override
    public boolean hasOneLine() {
      return question.within().isEmpty() && question.extent().equals(ReplyExtent.LINE);
    }
  }

  /**
   * A pause.
   *
   * @param span how long
   */
  record Pause(Duration span) implements Exchange {}

  /**
   * A setting that is read back as text.
   *
   * @param ask the question
   * @param take extracts the setting from the reply by its first group; empty: the whole reply
   */
  record Setting(CommandTemplate ask, Optional<Pattern> take) {}

  /**
   * A question whether a door is open.
   *
   * @param ask the question
   * @param open what the reply matches if it is
   * @param closed what the reply matches if it is not
   */
  record Door(CommandTemplate ask, Pattern open, Pattern closed) {}

  /**
   * A question whether there is an alarm.
   *
   * @param ask the question
   * @param none what the reply matches if there is none
   */
  record Alarm(CommandTemplate ask, Pattern none) {}
}
