// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.design;

/**
 * One way in which a built unit can differ from its nominal design, independent of all others.
 *
 * @param kind what deviates
 * @param of the part or network it belongs to
 * @param halfWidth how far it may deviate, in the unit of its kind, 0 or more
 */
public record DesignDeviation(Kind kind, String of, double halfWidth) {

  /** What can deviate, with its unit. */
  public enum Kind {
    /** Of a reference, a ratio. */
    REFERENCE("voltage"),
    /** Of a reference, 1/K. */
    REFERENCE_TEMPCO("tempco"),
    /** Of all resistors of a network together, a ratio. */
    NETWORK("resistance of all"),
    /** Of all resistors of a network together, 1/K. */
    NETWORK_TEMPCO("tempco of all"),
    /** Of one resistor; within a network, against the others, a ratio. */
    RESISTOR("resistance"),
    /** Of one resistor; within a network, against the others, 1/K. */
    RESISTOR_TEMPCO("tempco"),
    /** Quadratic temperature coefficient of a reference, about T_ref, 1/K2. */
    REFERENCE_CURVATURE("curvature"),
    /** The same of all resistors of a network together, 1/K2. */
    NETWORK_CURVATURE("curvature of all"),
    /** The same of one resistor; within a network, against the others, 1/K2. */
    RESISTOR_CURVATURE("curvature"),
    /** Of an amplifier, V. */
    OFFSET("offset"),
    /** Of an amplifier, V/K. */
    DRIFT("offset drift"),
    /** Of an amplifier; adds to the output current, A. */
    BIAS("input current"),
    /** Reciprocal of an amplifier's open-loop gain, beyond the nominal one, a ratio. */
    INVERSE_GAIN("gain"),
    /** Share of the current lost into a base, beyond the nominal one, a ratio. */
    BASE_LOSS("base current"),
    /** Of an insulated gate; adds to the output current, A. */
    GATE_LEAKAGE("gate leakage"),
    /**
     * Voltage gain of a pass device itself, the logarithm of it against the nominal one, a ratio.
     */
    OWN_GAIN("own gain, logarithm"),
    /** Rise of beta per volt across a pass device (1/V_A), beyond the nominal one, 1/V. */
    BASE_PER_V("beta per volt"),
    /** Rise of beta per kelvin, beyond the nominal one, 1/K. */
    BASE_PER_K("beta per kelvin"),
    /** What a pass device or an output stage needs to work, beyond the nominal one, V. */
    PASS_DROP("drop of its own"),
    /** Conductance from the output to ground at T_ref, beyond the nominal one, S. */
    LEAKAGE("leakage"),
    /** Of a series drop, V. */
    SERIES_DROP("drop"),
    /** Of a supply, V. */
    SUPPLY("voltage");

    private final String text;

    Kind(String text) {
      this.text = text;
    }

    /** Tells a quadratic temperature coefficient. */
    boolean isCurvature() {
      return this == REFERENCE_CURVATURE || this == NETWORK_CURVATURE || this == RESISTOR_CURVATURE;
    }

    /**
     * What deviates, in words.
     *
     * @return for example {@code offset drift}
     */
    public String text() {
      return text;
    }
  }
}
