// SPDX-License-Identifier: Apache-2.0
package millrace.cli.draft;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.PrintStream;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import millrace.document.FileMessageText;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.terminal.TerminalKeySequences;

/**
 * Questions to a person, one line each, repeated until the answer is usable. Enter alone accepts
 * the value in brackets. Single-threaded.
 */
public final class StarterFileInterview {
  private static final int MOST_TRIES = 5;

  private final BufferedReader in;
  private final PrintStream out;

  /**
   * Makes an interview.
   *
   * @param in the input of the person
   * @param out the destination of the questions
   */
  public StarterFileInterview(BufferedReader in, PrintStream out) {
    this.in = in;
    this.out = out;
  }

  /** Prints a message without a question. */
  void say(String line) {
    out.println(line);
  }

  /** Asks for text that is not blank; without a usual answer the person must type one. */
  String text(String question, String usual) {
    return ask(
        question,
        usual,
        answer -> {
          if (answer.isBlank()) {
            throw new IllegalArgumentException("Something must be typed.");
          }
          return answer;
        });
  }

  /** Asks for one word of a list. */
  String choice(String question, List<String> words, String usual) {
    return ask(
        question + " (" + String.join(", ", words) + ")",
        usual,
        answer -> {
          if (!words.contains(answer)) {
            throw new IllegalArgumentException(
                "%s is not one of them. %s"
                    .formatted(
                        FileMessageText.quoted(answer), FileMessageText.didYouMean(answer, words))
                    .strip());
          }
          return answer;
        });
  }

  /** Asks a yes-or-no question. */
  boolean yes(String question, boolean usual) {
    return choice(question, List.of("yes", "no"), usual ? "yes" : "no").equals("yes");
  }

  /** Asks for a quantity, and returns it as typed. */
  String quantity(String question, Dimension kind, String usual) {
    return ask(question, usual, answer -> checked(answer, kind));
  }

  /** Asks for a quantity above 0. */
  String positive(String question, Dimension kind, String usual) {
    return ask(
        question,
        usual,
        answer -> {
          if (!(QuantityText.parse(answer, kind) > 0)) {
            throw new IllegalArgumentException(FileMessageText.quoted(answer) + " is not above 0.");
          }
          return answer;
        });
  }

  /** Asks for several quantities with commas between them. */
  List<String> quantities(String question, Dimension kind, String usual) {
    return ask(
        question + ", with commas between",
        usual,
        answer -> {
          List<String> all =
              Arrays.stream(answer.split(",")).map(each -> checked(each.strip(), kind)).toList();
          return new ArrayList<>(all);
        });
  }

  private static String checked(String answer, Dimension kind) {
    QuantityText.parse(answer, kind);
    return answer;
  }

  /** Asks for a whole number between two bounds. */
  int count(String question, int least, int most, int usual) {
    return ask(
        question,
        String.valueOf(usual),
        answer -> {
          double value = QuantityText.parse(answer, Dimension.NUMBER);
          if (value != Math.rint(value) || value < least || value > most) {
            throw new IllegalArgumentException(
                "%s is not a whole number from %s to %s."
                    .formatted(FileMessageText.quoted(answer), least, most));
          }
          return (int) value;
        });
  }

  /**
   * Asks, and converts the answer to a value.
   *
   * @param question the question, without its mark
   * @param usual the answer of Enter alone; empty if an answer must be typed
   * @param make converts the answer; the person sees its refusal
   */
  <T> T ask(String question, String usual, Function<String, T> make) {
    for (int i = 0; i < MOST_TRIES; i++) {
      out.print(question + (usual.isEmpty() ? "" : " [" + usual + "]") + ": ");
      out.flush();
      String typed = typed().orElseThrow(() -> ended(question)).strip();
      try {
        return make.apply(typed.isEmpty() ? usual : typed);
      } catch (IllegalArgumentException e) {
        out.println("  That cannot be used: " + e.getMessage());
      }
    }
    throw refusal("five answers in a row could not be used", "an answer to: " + question + "?");
  }

  private Optional<String> typed() {
    try {
      return Optional.ofNullable(in.readLine()).map(TerminalKeySequences::without);
    } catch (IOException e) {
      throw refusal("what is typed cannot be read: " + e.getMessage(), "a terminal");
    }
  }

  private static BadInputException ended(String question) {
    return refusal("the answers end too early", "an answer to: " + question + "?");
  }

  private static BadInputException refusal(String found, String expected) {
    return new BadInputException(
        new InputFault(
            FilePlace.of("questions"),
            found,
            expected,
            "Nothing was written; start the command again."));
  }
}
