// SPDX-License-Identifier: Apache-2.0
package millrace.evidence.setting;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;

/**
 * The settings of a point: those read back from the meters, and the check standard connected in
 * place of the unit.
 *
 * @param currentMeter settings of the current meter
 * @param voltmeter settings of the voltmeter
 * @param checkStandard the check standard that was connected; empty for the unit
 */
public record PointSettings(
    MeterSettings currentMeter, MeterSettings voltmeter, Optional<String> checkStandard) {
  private static final String CURRENT_METER = "current meter ";
  private static final String VOLTMETER = "voltmeter ";
  private static final String CHECK_STANDARD = "check standard";

  /** Nothing was read back. */
  public static final PointSettings NONE = of(Map.of());

  /**
   * Settings of meters at the unit.
   *
   * @param currentMeter settings of the current meter
   * @param voltmeter settings of the voltmeter
   * @return the settings
   */
  public static PointSettings of(MeterSettings currentMeter, MeterSettings voltmeter) {
    return new PointSettings(currentMeter, voltmeter, Optional.empty());
  }

  /**
   * Reads what was stored.
   *
   * @param words as {@link #words} gives them
   * @return the settings
   */
  public static PointSettings of(Map<String, String> words) {
    return new PointSettings(
        MeterSettings.of(behind(CURRENT_METER, words)),
        MeterSettings.of(behind(VOLTMETER, words)),
        Optional.ofNullable(words.get(CHECK_STANDARD)));
  }

  private static Map<String, String> behind(String whose, Map<String, String> words) {
    Map<String, String> own = new LinkedHashMap<>();
    words.forEach(
        (name, value) -> {
          if (name.startsWith(whose)) {
            own.put(name.substring(whose.length()), value);
          }
        });
    return own;
  }

  /**
   * The same as words, to be stored and shown.
   *
   * @return name and value as people write them, as in {@code current meter range -> 2 mA}
   */
  public Map<String, String> words() {
    Map<String, String> words = new LinkedHashMap<>();
    currentMeter.words().forEach((name, value) -> words.put(CURRENT_METER + name, value));
    voltmeter.words().forEach((name, value) -> words.put(VOLTMETER + name, value));
    checkStandard.ifPresent(name -> words.put(CHECK_STANDARD, name));
    return words;
  }

  /**
   * The same with a check standard in place of the unit.
   *
   * @param name its name in the bench file
   * @return the settings
   */
  public PointSettings at(String name) {
    return new PointSettings(currentMeter, voltmeter, Optional.of(name));
  }
}
