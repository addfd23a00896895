// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

/**
 * The terms of a response (methods.md 11.1), y = I/I_N - 1 over t = T - T_ref, K, terminal voltage
 * V and x = V/V_s.
 */
public enum ResponseCoefficient {
  /** y at T_ref into a short. */
  C("c", "1"),
  /** Slope over temperature, 1/K. */
  A("a", "1/K"),
  /** Conductance over I_N, 1/V. */
  G_0("G_0", "1/V"),
  /** Conductance over I_N that doubles with D, 1/V. */
  G_L("G_L", "1/V"),
  /** Leakage over I_N that doubles with D. */
  I_0("i_0", "1"),
  /** Curvature over temperature, 1/K^2. */
  B_2("b_2", "1/K2"),
  /** Third order, 1/K^3. */
  B_3("b_3", "1/K3"),
  /** Fourth order, 1/K^4. */
  B_4("b_4", "1/K4"),
  /** Slope over V that moves with t. */
  G_01("g_01", "1/(V K)"),
  /** Slope over V that moves with t squared. */
  G_02("g_02", "1/(V K2)"),
  /** Slope over V that moves with t cubed. */
  G_03("g_03", "1/(V K3)"),
  /** Bend over V. */
  G_10("g_10", "1/V"),
  /** Bend over V that moves with t. */
  G_11("g_11", "1/(V K)"),
  /** Bend over V that moves with t squared. */
  G_12("g_12", "1/(V K2)"),
  /** Bend over V that moves with t cubed. */
  G_13("g_13", "1/(V K3)"),
  /** Third order over V. */
  G_20("g_20", "1/V"),
  /** Third order over V that moves with t. */
  G_21("g_21", "1/(V K)"),
  /** Third order over V that moves with t squared. */
  G_22("g_22", "1/(V K2)"),
  /** Third order over V that moves with t cubed. */
  G_23("g_23", "1/(V K3)"),
  /** Bend over V that doubles with D. */
  L_1("l_1", "1/V"),
  /** Third order over V that doubles with D. */
  L_2("l_2", "1/V"),
  /** Drift over the run, 1/h. */
  E("e", "1/h"),
  /** Slope over supply voltage, 1/V. */
  K_S("k_S", "1/V"),
  /** By how many kelvin the leakage doubles, K. */
  D("D", "K");

  private final String text;
  private final String unit;

  ResponseCoefficient(String text, String unit) {
    this.text = text;
    this.unit = unit;
  }

  /**
   * Its symbol in methods.md 11.1.
   *
   * @return the symbol
   */
  public String text() {
    return text;
  }

  /**
   * Its unit.
   *
   * @return the unit
   */
  public String unit() {
    return unit;
  }

  /** What it is, in words. */
  String inWords() {
    return switch (this) {
      case A -> "slope over temperature a";
      case G_0, G_L -> "slope over voltage " + text();
      case I_0 -> "leakage i_0";
      case B_2, B_3, B_4 -> "curvature over temperature " + text();
      case E -> "drift e";
      case D -> "doubling of leakage D";
      default -> "bend over voltage " + text();
    };
  }
}
