// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

/** The causes that an error may have (methods.md 9), and the unit of their size. */
public enum ErrorCause {
  /** Deviation of a reference, common to the ranges that share it. */
  REFERENCE("reference error", "ppm"),
  /** Deviation of one range resistor; positive: too much resistance. */
  RESISTOR("range resistor", "ppm"),
  /** Deviation of all resistors of a network together; positive: too much resistance. */
  NETWORK("resistor network", "ppm"),
  /** Input offset of an amplifier: its relative effect is V_os/V_set. */
  OFFSET("amplifier offset", "V"),
  /** Input current of an amplifier: absolute, so heaviest on the smallest range. */
  BIAS("amplifier input current", "A"),
  /**
   * Open-loop gain of an amplifier: the error is in proportion to V_set + V, V reduced by a pass
   * device's gain.
   */
  GAIN("low amplifier gain", "V/V"),
  /** Share of the current that goes into a base, 1/(beta + 1), the nominal share included. */
  BASE_LOSS("base-current loss", "ppm"),
  /** Resistance from the output to ground at T_ref, in all. */
  LEAKAGE("leakage to ground", "ohm"),
  /** Headroom missing against the design. */
  KNEE("early knee", "V"),
  /** Gain of the meter itself; positive: it reads too much. */
  METER("meter gain", "ppm"),
  /**
   * Input current of a voltmeter upstream of the current meter beyond what its bench file states,
   * as a resistance.
   */
  VOLTMETER_INPUT("voltmeter input resistance", "ohm"),
  /** Change of a reference with temperature. */
  REFERENCE_TEMPCO("reference tempco", "ppm/K"),
  /** Change of one range resistor with temperature. */
  RESISTOR_TEMPCO("range resistor tempco", "ppm/K"),
  /** Change of all resistors of a network with temperature. */
  NETWORK_TEMPCO("resistor network tempco", "ppm/K"),
  /** Change of an amplifier's offset with temperature. */
  DRIFT("amplifier offset drift", "V/K");

  private final String text;
  private final String unit;

  ErrorCause(String text, String unit) {
    this.text = text;
    this.unit = unit;
  }

  /**
   * The cause in words, as in JSON.
   *
   * @return for example {@code range resistor}
   */
  public String text() {
    return text;
  }

  /**
   * The unit of its size.
   *
   * @return the symbol
   */
  public String unit() {
    return unit;
  }

  /** Tells whether it only shows where the temperature changes. */
  boolean ofTemperature() {
    return this == REFERENCE_TEMPCO
        || this == RESISTOR_TEMPCO
        || this == NETWORK_TEMPCO
        || this == DRIFT;
  }

  private boolean isReciprocal() {
    return this == LEAKAGE || this == GAIN || this == VOLTMETER_INPUT;
  }

  /** From the natural unit of a deviation (ratio, V, A, S, 1/gain) to the unit of the size. */
  double size(double natural) {
    if (isReciprocal()) {
      return 1 / natural;
    }
    return unit.startsWith("ppm") ? natural * 1e6 : natural;
  }

  /** By how much the size moves with its natural unit. */
  double slope(double natural) {
    if (isReciprocal()) {
      return 1 / (natural * natural);
    }
    return unit.startsWith("ppm") ? 1e6 : 1;
  }
}
