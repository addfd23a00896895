// SPDX-License-Identifier: Apache-2.0
package millrace.evidence.setting;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityException;
import millrace.quantity.QuantityText;

/**
 * The settings that a meter reports. Readings are pooled by range and integration time, so both are
 * kept as the meter reported them, as a number or as a word.
 *
 * @param range the reported range, as in {@code 2 mA}; empty text if not reported
 * @param cycles its reported integration time in line cycles; empty text if not reported
 * @param resolution the least step of a reading, in its unit, above 0; empty if not known
 * @param inputOhm the reported input resistance, ohm, above 0; empty if not reported
 * @param shuntOhm the resistance that converts volts to amperes, ohm; empty without a shunt
 * @param others other reported settings, by name
 */
public record MeterSettings(
    String range,
    String cycles,
    OptionalDouble resolution,
    OptionalDouble inputOhm,
    OptionalDouble shuntOhm,
    Map<String, String> others) {
  private static final String RANGE = "range";
  private static final String CYCLES = "cycles";
  private static final String RESOLUTION = "resolution";
  private static final String INPUT = "input";
  private static final String SHUNT = "shunt";

  /** A meter that reports no settings. */
  public static final MeterSettings NONE = of(Map.of());

  /** Copies the map. */
  public MeterSettings {
    others = Collections.unmodifiableMap(new LinkedHashMap<>(others));
  }

  /**
   * Reads the report of a meter.
   *
   * @param words name and value as people write them, as in {@code range -> 2 mA}
   * @return the settings; a value that should be a number and is not goes to the others
   */
  public static MeterSettings of(Map<String, String> words) {
    OptionalDouble resolution = above0(words.getOrDefault(RESOLUTION, ""));
    OptionalDouble input = above0(words.getOrDefault(INPUT, ""));
    OptionalDouble shunt = ohm(words.getOrDefault(SHUNT, ""));
    Map<String, String> others = new LinkedHashMap<>(words);
    others.keySet().removeAll(Set.of(RANGE, CYCLES));
    resolution.ifPresent(step -> others.remove(RESOLUTION));
    input.ifPresent(r -> others.remove(INPUT));
    shunt.ifPresent(r -> others.remove(SHUNT));
    return new MeterSettings(
        words.getOrDefault(RANGE, ""),
        words.getOrDefault(CYCLES, ""),
        resolution,
        input,
        shunt,
        others);
  }

  private static OptionalDouble above0(String text) {
    OptionalDouble number = NumberText.parse(text);
    return number.isPresent() && number.getAsDouble() > 0 ? number : OptionalDouble.empty();
  }

  private static OptionalDouble ohm(String text) {
    try {
      return OptionalDouble.of(QuantityText.parse(text, Dimension.RESISTANCE));
    } catch (QuantityException e) {
      return OptionalDouble.empty();
    }
  }

  /**
   * The same as words.
   *
   * @return name and value as people write them; {@link #of} makes the settings of them again
   */
  public Map<String, String> words() {
    Map<String, String> words = new LinkedHashMap<>();
    if (!range.isEmpty()) {
      words.put(RANGE, range);
    }
    if (!cycles.isEmpty()) {
      words.put(CYCLES, cycles);
    }
    words.putAll(others);
    resolution.ifPresent(step -> words.put(RESOLUTION, NumberText.print(step)));
    inputOhm.ifPresent(r -> words.put(INPUT, NumberText.print(r)));
    shuntOhm.ifPresent(r -> words.put(SHUNT, QuantityText.print(r, Dimension.RESISTANCE)));
    return words;
  }

  /**
   * Its integration time.
   *
   * @return cycles of the line, above 0; empty if it reported no such number
   */
  public OptionalDouble lineCycles() {
    return above0(cycles);
  }

  /**
   * The same with a given resolution, if the meter reports none.
   *
   * @param step the least step of a reading, in its unit; empty if not known
   * @return settings with a resolution if there is one
   */
  public MeterSettings orResolution(OptionalDouble step) {
    return resolution.isPresent()
        ? this
        : new MeterSettings(range, cycles, step, inputOhm, shuntOhm, others);
  }

  /**
   * The same for a voltmeter with readings that count as currents through a shunt.
   *
   * @param ohm the resistance that converts volts to amperes, ohm
   * @return settings with the shunt
   */
  public MeterSettings overShunt(double ohm) {
    return new MeterSettings(range, cycles, resolution, inputOhm, OptionalDouble.of(ohm), others);
  }
}
