// SPDX-License-Identifier: Apache-2.0
package millrace.quantity;

/**
 * What kind of physical quantity a number is. Kinds that a wrong sum would mix up are kept apart: a
 * temperature is not a temperature difference, a ratio is not a ratio per kelvin.
 */
public enum Dimension {
  /** A bare count or exponent. */
  NUMBER("a number", "", ""),
  /** Electric current; base unit A. */
  CURRENT("a current", "A", "100 uA"),
  /** Electric potential difference; base unit V. */
  VOLTAGE("a voltage", "V", "9 V"),
  /** Resistance; base unit ohm. */
  RESISTANCE("a resistance", "ohm", "4.7 kohm"),
  /** Conductance; base unit S. */
  CONDUCTANCE("a conductance", "S", "2 nS"),
  /** Capacitance; base unit F. */
  CAPACITANCE("a capacitance", "F", "150 pF"),
  /** Power; base unit W. */
  POWER("a power", "W", "0.5 W"),
  /** Frequency; base unit Hz. */
  FREQUENCY("a frequency", "Hz", "50 Hz"),
  /** Time span; base unit s. */
  TIME("a time span", "s", "10 min"),
  /** Celsius temperature; base unit degC. */
  TEMPERATURE("a temperature", "degC", "-10 degC"),
  /** Difference of two temperatures; base unit K. */
  TEMPERATURE_DIFFERENCE("a temperature difference", "K", "0.5 K"),
  /** Rate of change of temperature; base unit K/s. */
  TEMPERATURE_RATE("a rate of temperature change", "K/s", "2 K/min"),
  /** Ratio of like quantities; base 1. */
  RATIO("a ratio", "1", "0.1 %"),
  /** Voltage gain, written in decibel; base 1 (a plain voltage ratio). */
  GAIN("a gain", "V/V", "120 dB"),
  /** Relative humidity; base 1. */
  HUMIDITY("a relative humidity", "1", "45 %"),
  /** Relative change per kelvin; base 1/K. */
  RATIO_PER_KELVIN("a temperature coefficient", "1/K", "3 ppm/K"),
  /** Relative change per kelvin squared; base 1/K2. */
  RATIO_PER_KELVIN_SQUARED("a quadratic temperature coefficient", "1/K2", "0.02 ppm/K2"),
  /** Relative change per volt; base 1/V. */
  RATIO_PER_VOLT("a relative change per volt", "1/V", "0.5 ppm/V"),
  /** Relative change per watt; base 1/W. */
  RATIO_PER_WATT("a power coefficient", "1/W", "2 ppm/W"),
  /** Relative change per time; base 1/s. */
  RATIO_PER_TIME("a drift rate", "1/s", "0.2 ppm/h"),
  /** Voltage change per kelvin; base V/K. */
  VOLTAGE_PER_KELVIN("a voltage drift", "V/K", "0.3 uV/K"),
  /** Current change per kelvin; base A/K. */
  CURRENT_PER_KELVIN("a current drift", "A/K", "2 pA/K"),
  /** Amount of data; base byte. */
  DATA("an amount of data", "B", "500 MB");

  private final String article;
  private final String base;
  private final String example;

  Dimension(String article, String base, String example) {
    this.article = article;
    this.base = base;
    this.example = example;
  }

  /**
   * The kind in words, with its article.
   *
   * @return for example {@code a current}
   */
  public String inWords() {
    return article;
  }

  /**
   * The unit in which a bare double of this kind counts everywhere in Millrace.
   *
   * @return the symbol; empty for a number
   */
  public String baseUnit() {
    return base;
  }

  /**
   * How a person would write one.
   *
   * @return an example that {@link QuantityText#parse(String, Dimension)} accepts
   */
  public String example() {
    return example.isEmpty() ? "3" : example;
  }
}
