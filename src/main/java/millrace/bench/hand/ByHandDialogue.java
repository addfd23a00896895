// SPDX-License-Identifier: Apache-2.0
package millrace.bench.hand;

import java.util.Locale;
import java.util.Set;
import millrace.bench.role.BenchOperator;
import millrace.bench.role.ManualTaskContext;
import millrace.bench.role.Reply;
import millrace.fault.FilePlace;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityException;
import millrace.quantity.QuantityText;

/**
 * Questions to the person about one instrument, repeated until the answer is plausible.
 *
 * @param place where the person stands
 * @param who the instrument in its role, for questions
 */
record ByHandDialogue(ManualTaskContext place, String who) {
  private static final int MOST_TRIES = 5;
  private static final Set<String> OVERLOAD = Set.of("overload", "ol", "over");
  private static final Set<String> NOTHING = Set.of("nothing", "none", "-");

  /**
   * Values that can be right.
   *
   * @param least in base units
   * @param most in base units
   * @param inWords for the person
   */
  record Plausible(double least, double most, String inWords) {
    boolean holds(double value) {
      return value >= least && value <= most;
    }
  }

  /** Tells the person what to do outside the loop, and waits for the confirmation. */
  void done(String task) {
    place.task(who, task);
  }

  /** Tells the person what to set at a panel, after the pending tasks at the loop. */
  void panel(String task) {
    place.panel(who, task);
  }

  /** Tells the person what to do at the loop. */
  void loop(String task) {
    place.loop(task);
  }

  /** Asks what the instrument shows. */
  Reply number(Dimension kind, Plausible plausible) {
    return number("what does %s show?".formatted(who), kind, plausible);
  }

  /** Asks what the instrument shows, in words of its own. */
  Reply number(String question, Dimension kind, Plausible plausible) {
    String hint =
        " Type it with its unit, as in '%s'; 'overload' and 'nothing' are answers too."
            .formatted(kind.example());
    String problem = "";
    String raw = "";
    for (int i = 0; i < MOST_TRIES; i++) {
      BenchOperator.Answer answer = place.read(problem, question, hint);
      String text = answer.text().strip();
      raw = text + " (typed by " + ManualTaskContext.by(answer) + ")";
      String word = text.toLowerCase(Locale.ROOT);
      if (OVERLOAD.contains(word)) {
        return new Reply.Overload(raw);
      }
      if (NOTHING.contains(word)) {
        return new Reply.NotANumber(raw);
      }
      try {
        double value = QuantityText.parse(text, kind);
        if (plausible.holds(value)) {
          return new Reply.Number(value, raw);
        }
        problem = "'%s' is not %s. ".formatted(text, plausible.inWords());
      } catch (QuantityException e) {
        problem = e.at(FilePlace.of("that")) + " ";
      }
    }
    return new Reply.Malformed(raw);
  }
}
