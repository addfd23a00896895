// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.DoubleBinaryOperator;
import millrace.analysis.design.DesignPart;
import millrace.analysis.design.RangeDesign;

/**
 * Errors of one range that the model leaves out, as unknowns with a normal half-width. All figures
 * are common practice, no source.
 *
 * @param design the range
 * @param decadesBelow how far its current lies below the largest that passes the same device
 */
record UnmodelledRangeError(RangeDesign design, double decadesBelow) {
  private static final double GAIN = 3e-6;
  private static final double PER_V = 0.5e-6;
  private static final double PER_K = 0.3e-6;

  /** A base current's departures from its formula, relative to it: over V^2, V dT, dT^2. */
  private static final double BASE_PER_V2 = 1.5e-4;

  private static final double BASE_PER_V_K = 6e-5;
  private static final double BASE_PER_K2 = 2.5e-5;

  /**
   * Beta is not the same at all currents. It falls to small ones (recombination): relative, per
   * decade. It falls to large ones (high injection): relative at the largest, in proportion to the
   * current elsewhere. And each range has something beside that.
   */
  private static final double BASE_PER_DECADE = 0.08;

  private static final double BASE_CROWDED = 0.4;
  private static final double BASE_OF_RANGE = 0.1;

  /**
   * How far the change of one range's base current differs from the others, as a share of the
   * change.
   */
  private static final double BASE_SHAPE = 0.1;

  private static final double BASE_PER_V = 0.0135;
  private static final double BASE_PER_K = 6e-3;

  /** By how much junctions and gates drop less per decade of current, V. */
  private static final double JUNCTION_V = 0.12;

  private double loss() {
    return design.passDevice().map(DesignPart.PassDevice::loss).orElse(0.0);
  }

  /**
   * A pass device may be a follower: the amplifier's output then follows the terminal voltage in
   * full, with a poor device by up to twice that.
   */
  private double followed() {
    return design.passDevice().isEmpty()
        ? 0
        : design.amplifier().map(a -> 2 / a.gain()).orElse(0.0);
  }

  /** The unknown that moves its compliance voltage with each decade. */
  String junctions() {
    return "junctions of " + design.passName();
  }

  /** By what share the base current of this range is off that of the device. */
  String ofRange() {
    return "base in " + design.name();
  }

  /** The same, rising evenly with each decade below the largest current. */
  String perDecade() {
    return "base per decade " + design.passName();
  }

  /** The same, falling with the current below the largest. */
  String crowded() {
    return "base at high currents " + design.passName();
  }

  /**
   * Relative excess of the base current over that of a constant beta. High injection divides the
   * collector's current by 1 + I q_1/I_KF, q_1 being the Early effect, which therefore counts twice
   * there (Gummel and Poon, Bell Syst. Tech. J. 49 (1970) 827, from memory).
   *
   * @param own state of {@link #ofRange}
   * @param each state of {@link #perDecade}
   * @param crowd state of {@link #crowded}
   * @param share that goes into the base by one beta for all currents
   */
  double more(double own, double each, double crowd, double share) {
    double loss = loss();
    return loss == 0
        ? 0
        : own + decadesBelow * each + crowd * Math.pow(10, -decadesBelow) * share / loss;
  }

  /**
   * An unknown that adds to ln |I|.
   *
   * @param name what it is called
   * @param halfWidth what is normal of it
   * @param weight by which it adds, over the voltage at the terminals, V, and T - T_ref, K
   */
  private record Unknown(String name, double halfWidth, DoubleBinaryOperator weight) {}

  private List<Unknown> added() {
    String range = design.name();
    String pass = design.passName();
    String follower = "follower of " + design.amplifier().map(DesignPart::name).orElse("");
    double loss = loss();
    double set = design.setVoltageV();
    return List.of(
        new Unknown("gain " + range, GAIN, (v, k) -> 1),
        new Unknown("per volt " + range, PER_V + BASE_SHAPE * BASE_PER_V * loss, (v, k) -> v),
        new Unknown("per kelvin " + range, PER_K + BASE_SHAPE * BASE_PER_K * loss, (v, k) -> k),
        new Unknown("per volt squared " + pass, BASE_PER_V2 * loss, (v, k) -> v * v),
        new Unknown("per volt and kelvin " + pass, BASE_PER_V_K * loss, (v, k) -> v * k),
        new Unknown("per kelvin squared " + pass, BASE_PER_K2 * loss, (v, k) -> k * k),
        new Unknown(follower, followed(), (v, k) -> v / set));
  }

  /** Every unknown by its name. */
  Map<String, Double> halfWidths() {
    boolean base = loss() > 0;
    Map<String, Double> all = new LinkedHashMap<>();
    added().forEach(u -> all.put(u.name(), u.halfWidth()));
    all.put(ofRange(), base ? BASE_OF_RANGE : 0);
    all.put(perDecade(), base ? BASE_PER_DECADE : 0);
    all.put(crowded(), base ? BASE_CROWDED : 0);
    all.put(junctions(), JUNCTION_V);
    return all;
  }

  /** What each that adds to ln |I| does to it. */
  Map<String, Double> weights(double terminalV, double dT) {
    Map<String, Double> all = new LinkedHashMap<>();
    added().forEach(u -> all.put(u.name(), u.weight().applyAsDouble(terminalV, dT)));
    return all;
  }
}
