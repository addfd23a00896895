package millrace.bench.hand;

import java.util.Locale;
import java.util.Set;
import millrace.bench.role.Person;
import millrace.bench.role.Reply;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble;
import millrace.fault.InstrumentTrouble.Kind;
import millrace.fault.Place;
import millrace.quantity.Dimension;
import millrace.quantity.Quantities;
import millrace.quantity.QuantityException;

/**
 * Questions to the person about one instrument, asked again while the answer cannot be right.
 *
 * @param person whom to ask
 * @param who the instrument in its role, for questions
 */
record Dialogue(Person person, String who) {
  private static final int MOST_TRIES = 5;
  private static final Set<String> DONE = Set.of("", "done", "yes", "y", "ok");
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

  /** Tells the person what to do, and waits until they say that it is done. */
  void done(String task) {
    String question = task + ", then press Enter (or type 'no' if it cannot be done).";
    Person.Answer answer = person.ask(question);
    for (int i = 1; i < MOST_TRIES && puzzling(answer); i++) {
      answer = person.ask("'%s' is no answer to this. %s".formatted(answer.text(), question));
    }
    if (!DONE.contains(word(answer))) {
      throw new InstrumentException(
          InstrumentTrouble.of(
                  Kind.REFUSED,
                  "by hand",
                  "%s was asked: %s; answered '%s'".formatted(by(answer), task, answer.text()))
              .with("that it is done", "")
              .named(who));
    }
  }

  /** A bar code, or a reading that was asked for elsewhere, tells nothing of what was done. */
  private static boolean puzzling(Person.Answer answer) {
    return !DONE.contains(word(answer)) && !word(answer).startsWith("no");
  }

  private static String word(Person.Answer answer) {
    return answer.text().strip().toLowerCase(Locale.ROOT);
  }

  /** Asks what the instrument shows. */
  Reply number(Dimension kind, Plausible plausible) {
    return number("What does %s show?".formatted(who), kind, plausible);
  }

  /** Asks what the instrument shows, in words of its own. */
  Reply number(String question, Dimension kind, Plausible plausible) {
    String hint =
        " Type it with its unit, as in '%s'; 'overload' and 'nothing' are answers too."
            .formatted(kind.example());
    String problem = "";
    String raw = "";
    for (int i = 0; i < MOST_TRIES; i++) {
      Person.Answer answer = person.ask(problem + question + hint);
      String text = answer.text().strip();
      raw = text + " (typed by " + by(answer) + ")";
      String word = text.toLowerCase(Locale.ROOT);
      if (OVERLOAD.contains(word)) {
        return new Reply.Overload(raw);
      }
      if (NOTHING.contains(word)) {
        return new Reply.NotANumber(raw);
      }
      try {
        double value = Quantities.parse(text, kind);
        if (plausible.holds(value)) {
          return new Reply.Number(value, raw);
        }
        problem = "'%s' is not %s. ".formatted(text, plausible.inWords());
      } catch (QuantityException e) {
        problem = e.at(Place.of("that")) + " ";
      }
    }
    return new Reply.Malformed(raw);
  }

  private static String by(Person.Answer answer) {
    return answer.by().isBlank() ? "somebody" : answer.by();
  }
}
