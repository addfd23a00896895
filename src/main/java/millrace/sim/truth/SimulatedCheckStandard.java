// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

/**
 * A source of 1 mA in the room, at a switch position of its own: it does not drift, is always on,
 * holds up to 12 V and shorts itself when the switch leaves it. The bench file states it with the
 * standard uncertainty of the distribution of its true current.
 *
 * @param currentA its true current, A
 */
public record SimulatedCheckStandard(double currentA) {
  /** The switch position. */
  public static final String POSITION = "S";

  /** The stated current, A. */
  static final double NOMINAL_A = 1e-3;

  /** Half-width of the rectangle of its error, a ratio. */
  static final double OFF = 8e-6;

  private static final double HIGHEST_V = 12;

  /**
   * Draws its current.
   *
   * @param draw the draw of true values
   */
  public static SimulatedCheckStandard drawn(TrueValueDraw draw) {
    return new SimulatedCheckStandard(NOMINAL_A * (1 + draw.within("check standard", OFF)));
  }

  /** The current at a terminal voltage. */
  public double at(double terminalV) {
    return terminalV < HIGHEST_V ? currentA : 0;
  }
}
