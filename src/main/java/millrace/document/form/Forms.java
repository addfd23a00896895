// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import com.google.re2j.Pattern;
import java.time.Duration;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.function.Supplier;
import millrace.document.Located;
import millrace.document.Patterns;
import millrace.document.Words;
import millrace.fault.Fault;
import millrace.quantity.Dimension;
import millrace.quantity.Numbers;
import millrace.quantity.Quantities;
import millrace.quantity.QuantityException;
import millrace.quantity.Spans;
import org.jspecify.annotations.Nullable;

/** The forms that files are built of; {@link MapForm} makes those with named keys. */
public final class Forms {
  private Forms() {}

  /**
   * A text that is not blank.
   *
   * @param inWords what it is, for messages
   * @return the form
   */
  public static Form<String> text(String inWords) {
    return scalar(
        inWords,
        Map.of("type", List.of("string", "number", "boolean")),
        (text, complain) -> {
          if (text.isBlank()) {
            complain.accept("nothing is written");
            return null;
          }
          return text;
        });
  }

  /**
   * A text that must be one of some words.
   *
   * @param words each word with what it stands for, in the order in which messages list them
   * @param <T> what a word stands for
   * @return the form
   */
  public static <T> Form<T> choice(Map<String, T> words) {
    Map<String, T> known = new LinkedHashMap<>(words);
    return new ScalarForm<>(
        Words.oneOf(known.keySet()),
        Map.of("enum", List.copyOf(known.keySet())),
        (node, faults) -> {
          T meant = known.get(node.text());
          if (meant == null) {
            faults.add(
                new Fault(
                    node.place(),
                    node.inWords() + " is not known here",
                    Words.oneOf(known.keySet()),
                    Words.didYouMean(node.text(), known.keySet())));
          }
          return Optional.ofNullable(meant);
        });
  }

  /**
   * A text that must be the word of one constant of an enum.
   *
   * @param constants the constants allowed
   * @param word the word of each
   * @param <E> the enum
   * @return the form
   */
  public static <E extends Enum<E>> Form<E> choice(E[] constants, Function<E, String> word) {
    Map<String, E> words = new LinkedHashMap<>();
    Arrays.stream(constants).forEach(c -> words.put(word.apply(c), c));
    return choice(words);
  }

  /**
   * Yes or no; true and false are taken too.
   *
   * @return the form
   */
  public static Form<Boolean> yesNo() {
    Map<String, Boolean> words = new LinkedHashMap<>();
    words.put("yes", true);
    words.put("no", false);
    words.put("true", true);
    words.put("false", false);
    Form<Boolean> plain = choice(words);
    return new Described<>(plain, "yes or no", Map.of("enum", List.of("yes", "no", true, false)));
  }

  /**
   * A whole number between two bounds.
   *
   * @param least the smallest allowed
   * @param most the largest allowed
   * @return the form
   */
  public static Form<Integer> count(int least, int most) {
    String inWords = "a whole number from " + least + " to " + most;
    return scalar(
        inWords,
        ordered("type", "integer", "minimum", least, "maximum", most),
        (text, complain) -> {
          OptionalDouble value = Numbers.parse(text);
          if (value.isEmpty() || value.getAsDouble() != Math.rint(value.getAsDouble())) {
            complain.accept(Words.quoted(text) + " is no whole number");
            return null;
          }
          if (value.getAsDouble() < least || value.getAsDouble() > most) {
            complain.accept(Words.quoted(text) + " is out of range");
            return null;
          }
          return (int) value.getAsDouble();
        });
  }

  /**
   * A quantity of one kind, in base units.
   *
   * @param dimension its kind
   * @return the form
   */
  public static Form<Double> quantity(Dimension dimension) {
    String inWords = dimension.inWords() + ", as in '" + dimension.example() + "'";
    return new ScalarForm<>(
        inWords,
        quantitySchema(dimension),
        (node, faults) -> {
          try {
            return Optional.of(Quantities.parse(node.text(), dimension));
          } catch (QuantityException e) {
            faults.add(e.at(node.place()));
            return Optional.empty();
          }
        });
  }

  /**
   * A time span above 0.
   *
   * @return the form
   */
  public static Form<Duration> span() {
    return map(
        where(quantity(Dimension.TIME), s -> s > 0, "a time span above 0"), Spans::ofSeconds);
  }

  private static Map<String, Object> quantitySchema(Dimension dimension) {
    return dimension == Dimension.NUMBER
        ? Map.of("type", "number")
        : ordered("type", "string", "pattern", Quantities.pattern(dimension));
  }

  /**
   * Words and what they say, printed in this order: that of {@code Map.of} is another each time.
   */
  private static Map<String, Object> ordered(Object... wordsAndValues) {
    Map<String, Object> all = new LinkedHashMap<>();
    for (int i = 0; i < wordsAndValues.length; i += 2) {
      all.put(wordsAndValues[i].toString(), wordsAndValues[i + 1]);
    }
    return all;
  }

  /**
   * The same form with one more demand that JSON Schema does not express.
   *
   * @param form the form
   * @param demand what must hold
   * @param inWords the demand in words, for example {@code a resistance of 0 ohm or more}
   * @param <T> what is read
   * @return the narrower form
   */
  public static <T> Form<T> where(Form<T> form, Predicate<T> demand, String inWords) {
    return new Narrowed<>(form, demand, inWords);
  }

  /**
   * A regular expression in the linear-time dialect of RE2.
   *
   * @return the form
   */
  public static Form<Pattern> pattern() {
    return scalar(
        "a regular expression",
        Map.of("type", "string"),
        (text, complain) -> {
          try {
            return Patterns.compile(text);
          } catch (IllegalArgumentException e) {
            complain.accept(String.valueOf(e.getMessage()));
            return null;
          }
        });
  }

  /**
   * A list; a single value stands for a list of one.
   *
   * @param item the form of each item
   * @param least how many there must be at least
   * @param <T> what an item is
   * @return the form
   */
  public static <T> Form<List<T>> list(Form<T> item, int least) {
    return new ListForm<>(item, least);
  }

  /**
   * Free keys, all with values of one form, in the order of the file.
   *
   * @param keys what the keys are, for messages and the schema
   * @param value the form of each value
   * @param <T> what a value is
   * @return the form
   */
  public static <T> Form<Map<String, T>> named(String keys, Form<T> value) {
    return new NamedForm<>(keys, value);
  }

  /**
   * A value with its place.
   *
   * @param form the form of the value
   * @param <T> what the value is
   * @return the form
   */
  public static <T> Form<Located<T>> located(Form<T> form) {
    return new Mapped<>(form, (node, value) -> new Located<>(node.place(), value));
  }

  /**
   * A value made from what another form reads.
   *
   * @param form the form that reads
   * @param make makes the value; what it refuses by {@link IllegalArgumentException} becomes a
   *     fault
   * @param <S> what is read
   * @param <T> what is made
   * @return the form
   */
  public static <S, T> Form<T> map(Form<S> form, Function<S, T> make) {
    return new Mapped<>(form, (node, value) -> make.apply(value));
  }

  /**
   * One form for a single value, another for anything else.
   *
   * @param scalar reads a single value
   * @param other reads a list or a map
   * @param <T> what is read
   * @return the form
   */
  public static <T> Form<T> scalarOr(Form<? extends T> scalar, Form<? extends T> other) {
    return new ShapeForm<>(scalar, other);
  }

  /**
   * One form for a list or a single value, another for a map.
   *
   * @param items reads a list or a single value
   * @param entries reads a map
   * @param <T> what is read
   * @return the form
   */
  public static <T> Form<T> itemsOr(Form<? extends T> items, Form<? extends T> entries) {
    return new ItemsForm<>(items, entries);
  }

  /**
   * A map whose kind is told by which of some keys it has.
   *
   * @param inWords what it is, for messages
   * @param variants the telling keys, each with the form that then reads the whole map
   * @param <T> what is read
   * @return the form
   */
  public static <T> Form<T> byKey(String inWords, Map<String, Form<? extends T>> variants) {
    return new VariantForm<>(inWords, variants);
  }

  /**
   * A map whose kind is told by the word under one key.
   *
   * @param inWords what it is, for messages
   * @param key the telling key
   * @param variants the words, each with the form that then reads the whole map
   * @param <T> what is read
   * @return the form
   */
  public static <T> Form<T> byWord(
      String inWords, String key, Map<String, Form<? extends T>> variants) {
    return new WordVariantForm<>(inWords, key, variants);
  }

  /**
   * A form that is named in the schema, and may refer to itself.
   *
   * @param name its name among the definitions
   * @param form gives the form when it is needed
   * @param <T> what is read
   * @return the form
   */
  public static <T> Form<T> defined(String name, Supplier<Form<T>> form) {
    return new DefinedForm<>(name, form);
  }

  /** Reads a text or complains about it. */
  private interface TextReader<T> {
    @Nullable T read(String text, Consumer<String> complain);
  }

  private static <T> Form<T> scalar(
      String inWords, Map<String, Object> schema, TextReader<T> reader) {
    return new ScalarForm<>(
        inWords,
        schema,
        (node, faults) ->
            Optional.ofNullable(
                reader.read(node.text(), found -> faults.add(node.place(), found, inWords))));
  }
}
