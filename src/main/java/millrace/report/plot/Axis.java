// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.ToDoubleFunction;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/**
 * One axis of a plot: its quantity in words, and its unit.
 *
 * <p>Immutable value type, thread-safe.
 *
 * @param words the quantity, without its unit
 * @param dimension kind of the quantity: numbers are in its base unit and printed with an
 *     engineering prefix; {@link Dimension#NUMBER} if the unit below is used unchanged
 * @param unit printed unit; used with {@link Dimension#NUMBER} only; empty for whole numbers
 * @param logarithmic true for a logarithmic axis, which shows only numbers above 0
 * @param always numbers that the axis always shows, such as 0
 * @param names names instead of numbers: the first is at 0, the next at 1; empty for numbers
 * @param places names at given places, instead of numbers; empty for numbers
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
   * A linear axis that chooses its engineering prefix.
   *
   * @param words the quantity
   * @param dimension kind of the quantity
   * @return the axis
   */
  public static Axis of(String words, Dimension dimension) {
    return new Axis(words, dimension, "", false, List.of(), List.of(), Map.of());
  }

  /**
   * A linear axis in a unit that takes no prefix, such as ppm.
   *
   * @param words the quantity
   * @param unit its unit; may be empty
   * @return the axis
   */
  public static Axis counted(String words, String unit) {
    return new Axis(words, Dimension.NUMBER, unit, false, List.of(), List.of(), Map.of());
  }

  /**
   * An axis of names at equal steps.
   *
   * @param words the kind of the names
   * @param names the names, at least one; the first is at 0, the next at 1
   * @return the axis
   */
  public static Axis named(String words, List<String> names) {
    if (names.isEmpty()) {
      throw new IllegalArgumentException("an axis of no names");
    }
    return new Axis(words, Dimension.NUMBER, "", false, List.of(), names, Map.of());
  }

  /**
   * An axis of whole steps with names at some of them, such as runs in the order of time.
   *
   * @param words the kind of the steps
   * @param places places of the names, in rising order; at least one
   * @return the axis
   */
  public static Axis inOrder(String words, Map<Double, String> places) {
    if (places.isEmpty()) {
      throw new IllegalArgumentException("an axis on which no place is named");
    }
    return new Axis(words, Dimension.NUMBER, "", false, List.of(), List.of(), places);
  }

  /** Whether there are names along the axis, not numbers. */
  boolean isNamed() {
    return !names.isEmpty() || !places.isEmpty();
  }

  /**
   * The same axis with a logarithmic scale.
   *
   * @return the axis
   */
  public Axis byFactors() {
    return new Axis(words, dimension, unit, true, always, names, places);
  }

  /**
   * The same axis with a number that it always shows.
   *
   * @param number in base units
   * @return the axis
   */
  public Axis with(double number) {
    List<Double> more = new ArrayList<>(always);
    more.add(number);
    return new Axis(words, dimension, unit, logarithmic, more, names, places);
  }

  /** The axis as drawn: its span, its ticks and its title. */
  record Drawn(AxisSpan span, List<Tick> ticks, String title, boolean logarithmic) {
    /** The position of a number along the axis: 0 at the lower end, 1 at the upper. */
    double share(double value) {
      if (logarithmic) {
        return Math.log(value / span.low()) / Math.log(span.high() / span.low());
      }
      return (value - span.low()) / (span.high() - span.low());
    }
  }

  /**
   * The space along an axis.
   *
   * @param lengthPx length of the axis
   * @param intervalPx approximate distance between numbers
   * @param room space for a number, with a margin, px
   */
  record Paper(double lengthPx, double intervalPx, ToDoubleFunction<String> room) {}

  /**
   * Lays out the axis for its extent.
   *
   * @param seen extent to show
   * @param paper space along the axis
   */
  Drawn drawn(AxisExtent seen, Paper paper) {
    if (!names.isEmpty()) {
      return new Drawn(
          new AxisSpan(-0.5, names.size() - 0.5), spaced(byPlace(), paper), words, false);
    }
    always.forEach(seen::see);
    if (!places.isEmpty()) {
      return new Drawn(
          AxisSpan.around(seen.low(), seen.high()), spaced(places, paper), words, false);
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

  private Map<Double, String> byPlace() {
    Map<Double, String> byPlace = new TreeMap<>();
    for (int i = 0; i < names.size(); i++) {
      byPlace.put((double) i, names.get(i));
    }
    return byPlace;
  }

  /** Names at every place, or at every second, third... where the words of all would touch. */
  private static List<Tick> spaced(Map<Double, String> byPlace, Paper paper) {
    double each = paper.lengthPx() / byPlace.size();
    double widest =
        byPlace.values().stream().mapToDouble(n -> widestWord(n, paper)).max().orElse(0);
    int every = (int) Math.max(1, Math.ceil(widest / each));
    List<Tick> ticks = new ArrayList<>();
    byPlace.forEach(
        (place, name) -> ticks.add(new Tick(place, ticks.size() % every == 0 ? name : "")));
    return ticks;
  }

  private static double widestWord(String name, Paper paper) {
    return Arrays.stream(name.split(" ")).mapToDouble(paper.room()).max().orElse(0);
  }

  /** Whether a tick of a count is not a whole number, since there is no half run. */
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
