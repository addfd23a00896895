// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import millrace.quantity.EnumWord;

/**
 * A change of the plan of a run in progress. Changes are only added; the plan of a run is that of
 * its sequence with all changes applied in order.
 *
 * @param kind what was changed
 * @param text the change for people in its first line, then the keys of the points that it is
 *     about, one a line
 * @param reason why, in words
 * @param who made it, in words
 * @param at wall clock
 * @param elapsed elapsed time of the run
 */
public record PlanChange(
    Kind kind, String text, String reason, String who, Instant at, Duration elapsed) {

  /** What was changed. */
  public enum Kind implements EnumWord {
    /** What was left of a stay at a temperature is not measured. */
    SKIP_TEMPERATURE("skip temperature"),
    /** One more temperature is measured. */
    ADD_TEMPERATURE("add temperature"),
    /** Points are not measured, since the limit that they serve is decided. */
    LEAVE_OUT("leave out"),
    /** Points are measured again, since the limit that they serve is not decided. */
    REPEAT("repeat");

    private final String text;

    Kind(String text) {
      this.text = text;
    }

    @Override
    public String text() {
      return text;
    }

    /**
     * Whether a run makes such changes itself.
     *
     * @return false for what people ask for
     */
    public boolean isAdaptive() {
      return this == LEAVE_OUT || this == REPEAT;
    }
  }

  /** Checks that the texts are not blank. */
  public PlanChange {
    if (text.isBlank() || reason.isBlank() || who.isBlank()) {
      throw new IllegalArgumentException("a change of a plan says what, why and who");
    }
  }

  /**
   * A change before it is made.
   *
   * @param kind what is changed
   * @param words the change for people, one line
   * @param keys of the points that it is about
   * @param reason why
   * @param who makes it
   */
  public record Draft(Kind kind, String words, List<String> keys, String reason, String who) {
    /** Copies the list. */
    public Draft {
      keys = List.copyOf(keys);
    }

    /**
     * The change as it is kept.
     *
     * @param at wall clock
     * @param elapsed elapsed time of the run
     * @return it with its time
     */
    public PlanChange at(Instant at, Duration elapsed) {
      List<String> lines = new ArrayList<>(List.of(words));
      lines.addAll(keys);
      return new PlanChange(kind, String.join("\n", lines), reason, who, at, elapsed);
    }
  }

  /**
   * The change for people.
   *
   * @return one line, such as {@code stay 2, 40 degC}
   */
  public String words() {
    return text.lines().findFirst().orElseThrow();
  }

  /**
   * The points that it is about.
   *
   * @return their keys; empty for a temperature that is added
   */
  public List<String> keys() {
    return text.lines().skip(1).toList();
  }

  /**
   * All of it.
   *
   * @return one line for people: kind, change, reason and who
   */
  public String inOneLine() {
    return "%s: %s; %s (%s)".formatted(kind.text, words(), reason, who);
  }
}
