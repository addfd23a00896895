// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * The conditions that a result is stated at; together with quantity and range they make a result
 * unique.
 *
 * <p>Immutable value type, thread-safe.
 *
 * @param numbers the conditions that are numbers, in the unit that their name ends in
 * @param words the conditions that are words
 */
public record ResultConditions(
    SortedMap<ResultConditionKey, Double> numbers, SortedMap<ResultConditionKey, String> words) {

  /** No condition. */
  public static final ResultConditions NONE =
      new ResultConditions(new TreeMap<>(), new TreeMap<>());

  /** Copies and checks that numbers are finite. */
  public ResultConditions {
    for (Map.Entry<ResultConditionKey, Double> entry : numbers.entrySet()) {
      if (!Double.isFinite(entry.getValue())) {
        throw new IllegalArgumentException(
            "condition %s is %s, must be finite".formatted(entry.getKey(), entry.getValue()));
      }
    }
    boolean mixed = false;
    for (ResultConditionKey key : numbers.keySet()) {
      mixed |= key.isWord();
    }
    for (ResultConditionKey key : words.keySet()) {
      mixed |= !key.isWord();
    }
    if (mixed) {
      throw new IllegalArgumentException(
          "conditions %s and %s: a number stands for a word, or a word for a number"
              .formatted(numbers, words));
    }
    numbers = Collections.unmodifiableSortedMap(new TreeMap<>(numbers));
    words = Collections.unmodifiableSortedMap(new TreeMap<>(words));
  }

  /**
   * One number alone.
   *
   * @param key which condition
   * @param value its value
   * @return the conditions
   */
  public static ResultConditions of(ResultConditionKey key, double value) {
    return NONE.with(key, value);
  }

  /**
   * These and one more number.
   *
   * @param key which condition
   * @param value its value
   * @return the conditions
   */
  public ResultConditions with(ResultConditionKey key, double value) {
    SortedMap<ResultConditionKey, Double> more = new TreeMap<>(numbers);
    more.put(key, value);
    return new ResultConditions(more, words);
  }

  /**
   * These and one more word.
   *
   * @param key which condition
   * @param word the word
   * @return the conditions
   */
  public ResultConditions with(ResultConditionKey key, String word) {
    SortedMap<ResultConditionKey, String> more = new TreeMap<>(words);
    more.put(key, word);
    return new ResultConditions(numbers, more);
  }

  /**
   * One of the numbers.
   *
   * @param key which condition
   * @return its value; empty if it is not stated
   */
  public OptionalDouble number(ResultConditionKey key) {
    Double value = numbers.get(key);
    return value == null ? OptionalDouble.empty() : OptionalDouble.of(value);
  }

  /**
   * All conditions by name, for JSON and tables.
   *
   * @return numbers as Double, words as String, in the order of {@link ResultConditionKey}
   */
  public Map<ResultConditionKey, Object> all() {
    Map<ResultConditionKey, Object> all = new EnumMap<>(ResultConditionKey.class);
    all.putAll(numbers);
    all.putAll(words);
    return Collections.unmodifiableMap(all);
  }
}
