// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import java.util.function.DoubleConsumer;
import java.util.function.Function;
import java.util.function.Supplier;
import millrace.quantity.NumberText;

/**
 * A plain-text dialect: {@code WORD [argument]} is answered {@code OK} or {@code ERR and why},
 * {@code WORD?} with a value. Guarded by the circuit's lock.
 */
final class PlainTextDialect implements SimLineResponder {
  private static final int SULKS = 5;

  private final Map<String, Function<String, String>> words = new LinkedHashMap<>();
  private final Runnable forget;
  private int sulking;

  PlainTextDialect(String model, Runnable forget) {
    this.forget = forget;
    asks("ID", () -> "Fennick " + model + " SIMULATED (Millrace simulated bench)");
  }

  PlainTextDialect asks(String word, Supplier<String> answer) {
    words.put(word + "?", a -> a.isEmpty() ? answer.get() : "ERR no argument here");
    return this;
  }

  /** A query that may name one of several things. */
  PlainTextDialect asksOf(String word, Function<String, String> answer) {
    words.put(word + "?", answer);
    return this;
  }

  PlainTextDialect takes(String word, Function<String, Optional<String>> refusal) {
    words.put(word, a -> refusal.apply(a).map(why -> "ERR " + why).orElse("OK"));
    return this;
  }

  PlainTextDialect takesFlag(String word, Consumer<Boolean> set) {
    return takes(
        word,
        a -> {
          if (!a.equals("ON") && !a.equals("OFF")) {
            return Optional.of("ON or OFF");
          }
          set.accept(a.equals("ON"));
          return Optional.empty();
        });
  }

  /** A word with one number between two bounds. */
  PlainTextDialect takesNumber(String word, double least, double most, DoubleConsumer work) {
    return takes(
        word,
        a -> {
          OptionalDouble value = NumberText.parse(a);
          if (value.isEmpty()) {
            return Optional.of("not a number");
          }
          if (value.getAsDouble() < least || value.getAsDouble() > most) {
            return Optional.of("out of range");
          }
          work.accept(value.getAsDouble());
          return Optional.empty();
        });
  }

  @Override
  public Optional<String> hear(String line) {
    if (sulking > 0) {
      sulking--;
      return Optional.of("ERR busy");
    }
    String text = line.strip();
    int blank = text.indexOf(' ');
    String word = blank < 0 ? text : text.substring(0, blank);
    String argument = blank < 0 ? "" : text.substring(blank + 1).strip();
    Function<String, String> work = words.get(word.toUpperCase(Locale.ROOT));
    return Optional.of(work == null ? "ERR unknown word" : work.apply(argument));
  }

  @Override
  public void powerOn() {
    sulking = 0;
    forget.run();
  }

  /** It has no error queue: instead it refuses the next few words. */
  @Override
  public void complain() {
    sulking = SULKS;
  }
}
