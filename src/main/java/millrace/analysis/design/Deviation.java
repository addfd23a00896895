// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.design;

/**
 * One way in which a built unit can differ from its nominal design, independent of all others.
 *
 * @param kind what deviates
 * @param of the part or network it belongs to
 * @param halfWidth how far it may deviate, in the unit of its kind, 0 or more
 */
public record Deviation(Kind kind, String of, double halfWidth) {

  /** What can deviate, with its unit. */
  public enum Kind {
    /** Of a reference. */
    REFERENCE("voltage", "1"),
    /** Of a reference. */
    REFERENCE_TEMPCO("tempco", "1/K"),
    /** Of all resistors of a network together. */
    NETWORK("resistance of all", "1"),
    /** Of all resistors of a network together. */
    NETWORK_TEMPCO("tempco of all", "1/K"),
    /** Of one resistor; within a network, against the others. */
    RESISTOR("resistance", "1"),
    /** Of one resistor; within a network, against the others. */
    RESISTOR_TEMPCO("tempco", "1/K"),
    /** Quadratic temperature coefficient of a reference, about T_ref. */
    REFERENCE_CURVATURE("curvature", "1/K2"),
    /** The same of all resistors of a network together. */
    NETWORK_CURVATURE("curvature of all", "1/K2"),
    /** The same of one resistor; within a network, against the others. */
    RESISTOR_CURVATURE("curvature", "1/K2"),
    /** Of an amplifier. */
    OFFSET("offset", "V"),
    /** Of an amplifier. */
    DRIFT("offset drift", "V/K"),
    /** Of an amplifier; adds to the output current. */
    BIAS("input current", "A"),
    /** Reciprocal of an amplifier's open-loop gain, beyond the nominal one. */
    INVERSE_GAIN("gain", "1"),
    /** Share of the current lost into a base, beyond the nominal one. */
    BASE_LOSS("base current", "1"),
    /** Of an insulated gate; adds to the output current. */
    GATE_LEAKAGE("gate leakage", "A"),
    /** Voltage gain of a pass device itself, the logarithm of it against the nominal one. */
    OWN_GAIN("own gain, logarithm", "1"),
    /** Rise of beta per volt across a pass device (1/V_A), beyond the nominal one. */
    BASE_PER_V("beta per volt", "1/V"),
    /** Rise of beta per kelvin, beyond the nominal one. */
    BASE_PER_K("beta per kelvin", "1/K"),
    /** What a pass device or an output stage needs to work, beyond the nominal one. */
    PASS_DROP("drop of its own", "V"),
    /** Conductance from the output to ground at T_ref, beyond the nominal one. */
    LEAKAGE("leakage", "S"),
    /** Of a series drop. */
    SERIES_DROP("drop", "V"),
    /** Of a supply. */
    SUPPLY("voltage", "V");

    private final String text;
    private final String unit;

    Kind(String text, String unit) {
      this.text = text;
      this.unit = unit;
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

    /**
     * The unit of deviation and half-width.
     *
     * @return the symbol, 1 for a ratio
     */
    public String unit() {
      return unit;
    }
  }
}
