// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import com.google.re2j.Pattern;
import java.time.Duration;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.BiFunction;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.function.Supplier;
import millrace.document.FileMessageText;
import millrace.document.LocatedValue;
import millrace.document.RegexFromFile;
import millrace.document.yaml.Node;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityException;
import millrace.quantity.QuantityText;
import millrace.quantity.TimeSpanSeconds;
import org.jspecify.annotations.Nullable;

/** The forms that files are built of; {@link YamlMapForm} makes those with named keys. */
public final class YamlForms {
  /** Where samples stand that have a place. */
  static final FilePlace SAMPLES = FilePlace.of("samples");

  private static final Map<Dimension, YamlForm<Double>> QUANTITIES = quantities();

  private YamlForms() {}

  /**
   * A text that is not blank.
   *
   * @param inWords what it is, for messages
   * @return the form
   */
  public static YamlForm<String> text(String inWords) {
    return text(inWords, inWords);
  }

  private static YamlForm<String> text(String inWords, String sample) {
    return scalar(
        inWords,
        Map.of("type", List.of("string", "number", "boolean")),
        sample,
        (text, complain) -> {
          if (text.isBlank()) {
            complain.accept("nothing is written");
            return null;
          }
          return text;
        });
  }

  /**
   * A text that something else reads.
   *
   * @param inWords what it is, for messages
   * @param example a text that is not refused
   * @param parse reads it; what it refuses by {@link IllegalArgumentException} becomes a fault
   * @param <T> what is read
   * @return the form
   */
  public static <T> YamlForm<T> parsed(String inWords, String example, Function<String, T> parse) {
    return map(text(inWords, example), parse);
  }

  /**
   * A text that must be one of some words.
   *
   * @param words each word with what it stands for, in the order in which messages list them
   * @param <T> what a word stands for
   * @return the form
   */
  public static <T> YamlForm<T> choice(Map<String, T> words) {
    Map<String, T> known = new LinkedHashMap<>(words);
    return new YamlScalarForm<>(
        FileMessageText.oneOf(known.keySet()),
        Map.of("enum", List.copyOf(known.keySet())),
        known.values().iterator().next(),
        (node, faults) -> {
          T meant = known.get(node.text());
          if (meant == null) {
            faults.add(
                new InputFault(
                    node.place(),
                    node.inWords() + " is not known here",
                    FileMessageText.oneOf(known.keySet()),
                    FileMessageText.didYouMean(node.text(), known.keySet())));
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
  public static <E extends Enum<E>> YamlForm<E> choice(E[] constants, Function<E, String> word) {
    Map<String, E> words = new LinkedHashMap<>();
    Arrays.stream(constants).forEach(c -> words.put(word.apply(c), c));
    return choice(words);
  }

  /**
   * Yes or no; true and false are taken too.
   *
   * @return the form
   */
  public static YamlForm<Boolean> yesNo() {
    Map<String, Boolean> words = new LinkedHashMap<>();
    words.put("yes", true);
    words.put("no", false);
    words.put("true", true);
    words.put("false", false);
    YamlForm<Boolean> plain = choice(words);
    return new RedescribedYamlForm<>(
        plain, "yes or no", Map.of("enum", List.of("yes", "no", true, false)));
  }

  /**
   * A whole number between two bounds.
   *
   * @param least the smallest allowed
   * @param most the largest allowed
   * @return the form
   */
  public static YamlForm<Integer> count(int least, int most) {
    String inWords = "a whole number from " + least + " to " + most;
    return scalar(
        inWords,
        ordered("type", "integer", "minimum", least, "maximum", most),
        least,
        (text, complain) -> {
          OptionalDouble value = NumberText.parse(text);
          if (value.isEmpty() || value.getAsDouble() != Math.rint(value.getAsDouble())) {
            complain.accept(FileMessageText.quoted(text) + " is no whole number");
            return null;
          }
          if (value.getAsDouble() < least || value.getAsDouble() > most) {
            complain.accept(FileMessageText.quoted(text) + " is out of range");
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
  public static YamlForm<Double> quantity(Dimension dimension) {
    return Objects.requireNonNull(QUANTITIES.get(dimension), dimension.name());
  }

  /**
   * A quantity above 0.
   *
   * @param dimension its kind
   * @param inWords for example {@code a voltage above 0 V}
   * @return the form
   */
  public static YamlForm<Double> above0(Dimension dimension, String inWords) {
    return where(quantity(dimension), v -> v > 0, inWords);
  }

  /**
   * A quantity of 0 or more.
   *
   * @param dimension its kind
   * @param inWords for example {@code a voltage of 0 V or more}
   * @return the form
   */
  public static YamlForm<Double> from0(Dimension dimension, String inWords) {
    return where(quantity(dimension), v -> v >= 0, inWords);
  }

  private static Map<Dimension, YamlForm<Double>> quantities() {
    Map<Dimension, YamlForm<Double>> forms = new EnumMap<>(Dimension.class);
    for (Dimension dimension : Dimension.values()) {
      forms.put(dimension, quantityForm(dimension));
    }
    return forms;
  }

  private static YamlForm<Double> quantityForm(Dimension dimension) {
    String inWords = dimension.inWords() + ", as in '" + dimension.example() + "'";
    return new YamlScalarForm<>(
        inWords,
        quantitySchema(dimension),
        QuantityText.parse(dimension.example(), dimension),
        (node, faults) -> {
          try {
            return Optional.of(QuantityText.parse(node.text(), dimension));
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
  public static YamlForm<Duration> span() {
    return map(above0(Dimension.TIME, "a time span above 0"), TimeSpanSeconds::ofSeconds);
  }

  private static Map<String, Object> quantitySchema(Dimension dimension) {
    return dimension == Dimension.NUMBER
        ? Map.of("type", "number")
        : ordered("type", "string", "pattern", QuantityText.pattern(dimension));
  }

  /** Words with their meaning, printed in this order: the order of {@code Map.of} varies. */
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
  public static <T> YamlForm<T> where(YamlForm<T> form, Predicate<T> demand, String inWords) {
    return new CheckedYamlForm<>(form, demand, inWords);
  }

  /**
   * The same form with a check that reports its own fault.
   *
   * @param form the form
   * @param check what it refuses by {@link IllegalArgumentException} becomes a fault
   * @param <T> what is read
   * @return the narrower form
   */
  public static <T> YamlForm<T> checked(YamlForm<T> form, Consumer<T> check) {
    return new ConvertedYamlForm<>(
        form,
        (place, value) -> {
          check.accept(value);
          return value;
        },
        form::sample);
  }

  /**
   * A regular expression in the linear-time dialect of RE2.
   *
   * @return the form
   */
  public static YamlForm<Pattern> pattern() {
    return scalar(
        "a regular expression",
        Map.of("type", "string"),
        RegexFromFile.compile("x"),
        (text, complain) -> {
          try {
            return RegexFromFile.compile(text);
          } catch (IllegalArgumentException e) {
            complain.accept(String.valueOf(e.getMessage()));
            return null;
          }
        });
  }

  /**
   * A list; a single value counts as a list of one.
   *
   * @param item the form of each item
   * @param least how many there must be at least
   * @param <T> what an item is
   * @return the form
   */
  public static <T> YamlForm<List<T>> list(YamlForm<T> item, int least) {
    return new YamlListForm<>(item, least);
  }

  /**
   * Two values and no other.
   *
   * @param item the form of each
   * @param inWords what they are, for messages
   * @param make makes one value of both
   * @param <T> what each is
   * @param <R> what is made
   * @return the form
   */
  public static <T, R> YamlForm<R> two(YamlForm<T> item, String inWords, BiFunction<T, T, R> make) {
    return map(
        where(list(item, 2), list -> list.size() == 2, inWords),
        list -> make.apply(list.get(0), list.get(1)));
  }

  /**
   * Free keys, all with values of one form, in the order of the file.
   *
   * @param keys what the keys are, for messages and the schema
   * @param value the form of each value
   * @param <T> what a value is
   * @return the form
   */
  public static <T> YamlForm<Map<String, T>> named(String keys, YamlForm<T> value) {
    return named(keys, name -> value);
  }

  /**
   * Free keys with values that depend on their keys, in the order of the file.
   *
   * @param keys what the keys are, for messages and the schema
   * @param value gives the form of the value under a key; all are the same but for that name
   * @param <T> what a value is
   * @return the form
   */
  public static <T> YamlForm<Map<String, T>> named(
      String keys, Function<String, YamlForm<T>> value) {
    return new YamlFreeKeysForm<>(keys, value);
  }

  /**
   * A value with its place.
   *
   * @param form the form of the value
   * @param <T> what the value is
   * @return the form
   */
  public static <T> YamlForm<LocatedValue<T>> located(YamlForm<T> form) {
    return new ConvertedYamlForm<>(
        form, LocatedValue::new, () -> new LocatedValue<>(SAMPLES, form.sample()));
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
  public static <S, T> YamlForm<T> map(YamlForm<S> form, Function<S, T> make) {
    return new ConvertedYamlForm<>(
        form, (place, value) -> make.apply(value), () -> make.apply(form.sample()));
  }

  /**
   * One form for a single value, another for anything else.
   *
   * @param scalar reads a single value
   * @param other reads a list or a map
   * @param <T> what is read
   * @return the form
   */
  public static <T> YamlForm<T> scalarOr(
      YamlForm<? extends T> scalar, YamlForm<? extends T> other) {
    return new YamlByShapeForm<>(node -> node instanceof Node.Scalar, scalar, other);
  }

  /**
   * One form for a list or a single value, another for a map.
   *
   * @param items reads a list or a single value
   * @param entries reads a map
   * @param <T> what is read
   * @return the form
   */
  public static <T> YamlForm<T> itemsOr(
      YamlForm<? extends T> items, YamlForm<? extends T> entries) {
    return new YamlByShapeForm<>(node -> !(node instanceof Node.Entries), items, entries);
  }

  /**
   * A map with its kind given by the presence of one of some keys.
   *
   * @param inWords what it is, for messages
   * @param variants the keys that decide, each with the form that then reads the whole map
   * @param <T> what is read
   * @return the form
   */
  public static <T> YamlForm<T> byKey(String inWords, Map<String, YamlForm<? extends T>> variants) {
    return new YamlVariantByKeyForm<>(inWords, variants);
  }

  /**
   * A map with its kind given by the word under one key.
   *
   * @param inWords what it is, for messages
   * @param key the key that decides
   * @param variants the words, each with the form that then reads the whole map
   * @param <T> what is read
   * @return the form
   */
  public static <T> YamlForm<T> byWord(
      String inWords, String key, Map<String, YamlForm<? extends T>> variants) {
    return new YamlVariantByWordForm<>(inWords, key, variants);
  }

  /**
   * A form that is named in the schema, and may refer to itself.
   *
   * @param name its name among the definitions
   * @param form gives the form when it is needed
   * @param <T> what is read
   * @return the form
   */
  public static <T> YamlForm<T> defined(String name, Supplier<YamlForm<T>> form) {
    return new RecursiveYamlForm<>(name, form);
  }

  /** Reads a text or complains about it. */
  private interface TextReader<T> {
    @Nullable T read(String text, Consumer<String> complain);
  }

  private static <T> YamlForm<T> scalar(
      String inWords, Map<String, Object> schema, T sample, TextReader<T> reader) {
    return new YamlScalarForm<>(
        inWords,
        schema,
        sample,
        (node, faults) ->
            Optional.ofNullable(
                reader.read(node.text(), found -> faults.add(node.place(), found, inWords))));
  }
}
