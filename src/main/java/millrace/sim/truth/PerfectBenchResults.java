// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

/**
 * The results of a perfect bench for one range at one temperature and supply voltage. Immutable and
 * thread-safe.
 */
public final class PerfectBenchResults {
  private static final int STEPS = 200;
  private static final double LINE_SHARE = 0.8;
  private static final int ROUNDS = 50;

  private final TrueRange range;
  private final double unitDegC;
  private final double supplyV;

  PerfectBenchResults(TrueRange range, double unitDegC, double supplyV) {
    this.range = range;
    this.unitDegC = unitDegC;
    this.supplyV = supplyV;
  }

  /**
   * The plateau line I = I_0 - G V.
   *
   * @param shortA I_0, the line's current into a short, A
   * @param conductanceS G, S
   * @param complianceV V_c, the voltage up to 0.8 of which the line was fitted, V
   */
  public record Line(double shortA, double conductanceS, double complianceV) {
    double atA(double terminalV) {
      return shortA - conductanceS * terminalV;
    }
  }

  /**
   * The current at a voltage.
   *
   * @param terminalV at the terminals, V
   * @return A
   */
  public double currentA(double terminalV) {
    return range.currentA(terminalV, unitDegC, supplyV);
  }

  /**
   * The output conductance -dI/dV far from the knee.
   *
   * @return S
   */
  public double outputConductanceS() {
    return range.plateauS(unitDegC);
  }

  /**
   * The voltage at which the current is zero.
   *
   * @return V
   */
  public double collapseV() {
    return range.collapseV(unitDegC, supplyV);
  }

  /**
   * The plateau line and the compliance voltage relative to it: the line is fitted up to 0.8 of the
   * compliance voltage, which is found from the line, until both are stable (methods.md 3.2 and
   * 3.3).
   *
   * @param criterion d, a ratio, above 0 and below 1
   * @return the line with its compliance voltage
   */
  public Line line(double criterion) {
    double complianceV = collapseV();
    Line line = fitted(complianceV);
    for (int i = 0; i < ROUNDS; i++) {
      double next = crossingV(line, criterion);
      line = fitted(next);
      if (Math.abs(next - complianceV) < 1e-12 * next) {
        break;
      }
      complianceV = next;
    }
    return line;
  }

  /**
   * The compliance voltage relative to the current into a short (methods.md 3.3).
   *
   * @param criterion d, a ratio, above 0 and below 1
   * @return V
   */
  public double complianceToShortV(double criterion) {
    return crossingV(new Line(currentA(0), 0, 0), criterion);
  }

  /** Least squares over evenly spaced voltages from 0 to 0.8 of the compliance voltage. */
  private Line fitted(double complianceV) {
    double top = LINE_SHARE * complianceV;
    double middle = top / 2;
    double short0 = currentA(0);
    double sum = 0;
    double above = 0;
    double below = 0;
    for (int i = 0; i <= STEPS; i++) {
      double v = top * i / STEPS;
      double fall = currentA(v) - short0;
      sum += fall;
      above += (v - middle) * fall;
      below += (v - middle) * (v - middle);
    }
    double slope = above / below;
    return new Line(short0 + sum / (STEPS + 1) - slope * middle, -slope, complianceV);
  }

  /** The first voltage at which the current lies below the line by the criterion. */
  private double crossingV(Line line, double criterion) {
    double low = 0;
    double high = collapseV();
    for (int i = 0; i < 200 && high - low > Math.ulp(high); i++) {
      double middle = (low + high) / 2;
      if (currentA(middle) > (1 - criterion) * line.atA(middle)) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return (low + high) / 2;
  }
}
