// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.ToDoubleFunction;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/**
 * What one axis of a plot shows, in words and in which unit.
 *
 * <p>Immutable value type, thread-safe.
 *
 * @param words what is shown, without its unit
 * @param dimension its kind: numbers are in its base unit and printed with an engineering prefix;
 *     {@link Dimension#NUMBER} where the unit below counts as it is
 * @param unit the unit as counted; used with {@link Dimension#NUMBER} only; empty for whole numbers
 * @param logarithmic true for equal steps per factor; shows only numbers above 0
 * @param always numbers that are always shown, such as 0
 * @param names names instead of numbers: the first stands at 0, the next at 1; empty for numbers
 * @param places names at places of one's own choice, instead of numbers; empty for numbers
 */
public record Axis(
    String words,
    Dimension dimension,
    String unit,
    boolean logarithmic,
    List<Double> always,
    List<String> names,
    Map<Double, String> places) {
  private static final int LEAST_INTERVALS = 4;

  /** Copies the lists. */
  public Axis {
    names = List.copyOf(names);
    places = Collections.unmodifiableMap(new TreeMap<>(places));
    always = List.copyOf(always);
  }

  /**
   * A linear axis with an engineering prefix of its own choice.
   *
   * @param words what is shown
   * @param dimension its kind
   * @return the axis
   */
  public static Axis of(String words, Dimension dimension) {
    return new Axis(words, dimension, "", false, List.of(), List.of(), Map.of());
  }

  /**
   * A linear axis in a unit that takes no prefix, such as ppm.
   *
   * @param words what is shown
   * @param unit its unit; may be empty
   * @return the axis
   */
  public static Axis counted(String words, String unit) {
    return new Axis(words, Dimension.NUMBER, unit, false, List.of(), List.of(), Map.of());
  }

  /**
   * An axis of names at equal steps.
   *
   * @param words what they are
   * @param names the names, at least one; the first stands at 0, the next at 1
   * @return the axis
   */
  public static Axis named(String words, List<String> names) {
    if (names.isEmpty()) {
      throw new IllegalArgumentException("an axis of no names");
    }
    return new Axis(words, Dimension.NUMBER, "", false, List.of(), names, Map.of());
  }

  /**
   * An axis of whole steps, such as runs in the order of time, of which some are named.
   *
   * @param words what they are
   * @param places where names stand, in rising order; at least one
   * @return the axis
   */
  public static Axis inOrder(String words, Map<Double, String> places) {
    if (places.isEmpty()) {
      throw new IllegalArgumentException("an axis on which no place is named");
    }
    return new Axis(words, Dimension.NUMBER, "", false, List.of(), List.of(), places);
  }

  /** How many names share the length of the axis; 0 where numbers stand. */
  int named() {
    return names.size() + places.size();
  }

  /**
   * The same with equal steps per factor.
   *
   * @return the axis
   */
  public Axis byFactors() {
    return new Axis(words, dimension, unit, true, always, names, places);
  }

  /**
   * The same with a number that is always shown.
   *
   * @param number in base units
   * @return the axis
   */
  public Axis with(double number) {
    List<Double> more = new ArrayList<>(always);
    more.add(number);
    return new Axis(words, dimension, unit, logarithmic, more, names, places);
  }

  /** The axis as drawn: what stretch, which numbers, which title. */
  record Drawn(AxisSpan span, List<Tick> ticks, String title, boolean logarithmic) {
    /** How far along the axis a number lies: 0 at the lower end, 1 at the upper. */
    double share(double value) {
      if (logarithmic) {
        return Math.log(value / span.low()) / Math.log(span.high() / span.low());
      }
      return (value - span.low()) / (span.high() - span.low());
    }
  }

  /**
   * The room along an axis.
   *
   * @param lengthPx how long it will be
   * @param intervalPx about how far numbers should be apart
   * @param room how much of the length a number takes, air included, px
   */
  record Paper(double lengthPx, double intervalPx, ToDoubleFunction<String> room) {}

  /**
   * Lays the axis out over what was seen.
   *
   * @param seen what must be shown
   * @param paper how much room there is
   */
  Drawn drawn(AxisExtent seen, Paper paper) {
    if (!names.isEmpty()) {
      return new Drawn(new AxisSpan(-0.5, names.size() - 0.5), nameTicks(), words, false);
    }
    always.forEach(seen::see);
    if (!places.isEmpty()) {
      List<Tick> ticks = new ArrayList<>();
      places.forEach((place, name) -> ticks.add(new Tick(place, name)));
      return new Drawn(AxisSpan.around(seen.low(), seen.high()), ticks, words, false);
    }
    AxisSpan span =
        logarithmic
            ? AxisSpan.aroundLog(seen.low(), seen.high())
            : AxisSpan.around(seen.low(), seen.high());
    if (logarithmic) {
      return new Drawn(span, Ticks.logarithmic(span, dimension), title(unit), true);
    }
    QuantityText.Scale scale = scale(span);
    int wanted = Math.max(LEAST_INTERVALS, (int) (paper.lengthPx() / paper.intervalPx()));
    List<Tick> ticks = Ticks.linear(span, scale.size(), wanted);
    while (wanted > 1 && (crowded(ticks, span, paper) || halved(ticks))) {
      wanted--;
      ticks = Ticks.linear(span, scale.size(), wanted);
    }
    return new Drawn(span, ticks, title(scale.symbol()), false);
  }

  private List<Tick> nameTicks() {
    List<Tick> ticks = new ArrayList<>();
    for (int i = 0; i < names.size(); i++) {
      ticks.add(new Tick(i, names.get(i)));
    }
    return ticks;
  }

  /** What has no unit is counted: there is no half run. */
  private boolean halved(List<Tick> ticks) {
    return dimension == Dimension.NUMBER
        && unit.isEmpty()
        && ticks.stream().anyMatch(t -> t.label().contains("."));
  }

  private static boolean crowded(List<Tick> ticks, AxisSpan span, Paper paper) {
    double apart = span.high() - span.low();
    for (int i = 1; i < ticks.size(); i++) {
      apart = Math.min(apart, ticks.get(i).value() - ticks.get(i - 1).value());
    }
    double widest =
        ticks.stream().mapToDouble(t -> paper.room().applyAsDouble(t.label())).max().orElse(0);
    return apart / (span.high() - span.low()) * paper.lengthPx() < widest;
  }

  private QuantityText.Scale scale(AxisSpan span) {
    double largest = Math.max(Math.abs(span.low()), Math.abs(span.high()));
    return dimension == Dimension.NUMBER
        ? new QuantityText.Scale(unit, 1)
        : QuantityText.scaleFor(largest, dimension);
  }

  private String title(String symbol) {
    return Optional.of(symbol)
        .filter(s -> !s.isEmpty())
        .map(s -> words + " in " + PrintedUnitSymbols.of(s))
        .orElse(words);
  }
}
