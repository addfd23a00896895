// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.Optional;

/** The quantities that Millrace computes, with the names and units of its JSON. */
public enum ResultQuantity {
  /** Current of the range. */
  CURRENT("current", "A"),
  /** Current at the reference load and temperature against nominal. */
  CURRENT_ERROR("current_error", "ppm"),
  /** Fall of current per volt at the terminals. */
  OUTPUT_CONDUCTANCE("output_conductance", "S"),
  /** Reciprocal of the output conductance. */
  OUTPUT_RESISTANCE("output_resistance", "ohm"),
  /** Relative change of current per volt at the terminals. */
  LOAD_REGULATION("load_regulation", "ppm/V"),
  /** Relative change of current per volt of supply. */
  SUPPLY_REGULATION("supply_regulation", "ppm/V"),
  /** Current with the source off. */
  OFF_LEAKAGE("off_leakage", "A"),
  /** Largest deviation from the best minimax line. */
  LINEARITY_INDEPENDENT("linearity_independent", "ppm"),
  /** Largest deviation from the line through both ends. */
  LINEARITY_TERMINAL("linearity_terminal", "ppm"),
  /** Largest deviation from the best line through the first point. */
  LINEARITY_ZERO("linearity_zero", "ppm"),
  /** Largest residual of the least-squares line. */
  LINEARITY_LEAST_SQUARES("linearity_least_squares", "ppm"),
  /** Voltage at which the current has fallen by the criterion. */
  COMPLIANCE_VOLTAGE("compliance_voltage", "V"),
  /** Breakpoint of a two-segment fit. */
  KNEE_VOLTAGE("knee_voltage", "V"),
  /** Least-squares slope of relative current over temperature. */
  TEMPCO("tempco", "ppm/K"),
  /** Range of current over range of temperature. */
  TEMPCO_BOX("tempco_box", "ppm/K"),
  /** From the reference to the lowest temperature. */
  TEMPCO_COLD("tempco_cold", "ppm/K"),
  /** From the reference to the highest temperature. */
  TEMPCO_HOT("tempco_hot", "ppm/K"),
  /** Linear coefficient of the quadratic. */
  TEMPCO_QUADRATIC_A("tempco_quadratic_a", "ppm/K"),
  /** Quadratic coefficient. */
  TEMPCO_QUADRATIC_B("tempco_quadratic_b", "ppm/K2"),
  /** Temperature at which the quadratic turns. */
  TURNOVER("turnover", "degC"),
  /** Later minus earlier visit on either side of an excursion. */
  THERMAL_HYSTERESIS("thermal_hysteresis", "ppm"),
  /** Slope of the ratio of two ranges over temperature. */
  TRACKING("tracking", "ppm/K"),
  /** Ratio of two ranges against its nominal. */
  RANGE_RATIO_ERROR("range_ratio_error", "ppm"),
  /** Until the current stays in its band. */
  SETTLING_TIME("settling_time", "s"),
  /** The settling time from power-on. */
  WARM_UP_TIME("warm_up_time", "s"),
  /** Slope over time. */
  DRIFT("drift", "ppm/h"),
  /** Standard deviation in the stated bandwidth. */
  NOISE_RMS("noise_rms", "ppm"),
  /** Range in the stated bandwidth and duration. */
  NOISE_PEAK_TO_PEAK("noise_peak_to_peak", "ppm"),
  /** Overlapping Allan deviation. */
  ALLAN_DEVIATION("allan_deviation", "ppm"),
  /** Slope over the set value, less one. */
  GAIN_ERROR("gain_error", "ppm"),
  /** Intercept over the set value. */
  OFFSET_ERROR("offset_error", "A");

  private final String key;
  private final String unit;

  ResultQuantity(String key, String unit) {
    this.key = key;
    this.unit = unit;
  }

  /**
   * The name in JSON, in files and in the logbook.
   *
   * @return for example {@code tempco_box}
   */
  public String key() {
    return key;
  }

  /**
   * The unit that values of it are counted in.
   *
   * @return for example {@code ppm/K}
   */
  public String unit() {
    return unit;
  }

  /**
   * Finds a quantity by its name.
   *
   * @param key the name
   * @return the quantity; empty if none has that name
   */
  public static Optional<ResultQuantity> byKey(String key) {
    for (ResultQuantity quantity : values()) {
      if (quantity.key.equals(key)) {
        return Optional.of(quantity);
      }
    }
    return Optional.empty();
  }

  /**
   * The name for people: the key with blanks.
   *
   * @return for example {@code tempco box}
   */
  public String inWords() {
    return key.replace('_', ' ');
  }
}
