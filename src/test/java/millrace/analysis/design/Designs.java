// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.design;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Invented designs for tests. */
public final class Designs {
  private Designs() {}

  public static final DesignPart.Reference REF =
      new DesignPart.Reference("REF", 500e-6, 3e-6, Optional.empty());
  public static final DesignPart.Amplifier A1 =
      new DesignPart.Amplifier("A1", 30e-6, 0.3e-6, 5e-12, 1e6);
  public static final DesignPart.PassDevice GATE =
      new DesignPart.PassDevice("Q1", Optional.empty(), 0);
  public static final DesignPart.PassDevice BIPOLAR =
      new DesignPart.PassDevice("Q1", Optional.of(100.0), 0);
  public static final DesignPart.Leakage L1 = new DesignPart.Leakage("L1", 200e9, 10);
  public static final DesignPart.SeriesDrop D1 = new DesignPart.SeriesDrop("D1", 0.6);
  public static final DesignPart.Supply S1 = new DesignPart.Supply("S1", 15);

  public static DesignPart.Resistor alone(String name, double ohm) {
    return new DesignPart.Resistor(name, ohm, 500e-6, 10e-6, Optional.empty(), Optional.empty());
  }

  public static DesignPart.Resistor inNetwork(String name, double ohm) {
    return new DesignPart.Resistor(
        name,
        ohm,
        500e-6,
        10e-6,
        Optional.empty(),
        Optional.of(new DesignPart.Network("N1", 100e-6, 1e-6)));
  }

  /** Set voltage over resistor and nothing else. */
  public static RangeDesign bare(String name, double setV, DesignPart.Resistor resistor) {
    return new RangeDesign(
        name,
        setV / resistor.valueOhm(),
        0,
        setV,
        REF,
        resistor,
        Optional.empty(),
        Optional.empty(),
        List.of(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        List.of());
  }

  /** All parts. */
  public static RangeDesign full(
      String name, double setV, DesignPart.Resistor resistor, DesignPart.PassDevice pass) {
    return new RangeDesign(
        name,
        setV / resistor.valueOhm(),
        0,
        setV,
        REF,
        resistor,
        Optional.of(A1),
        Optional.of(pass),
        List.of(D1),
        Optional.of(L1),
        Optional.of(S1),
        Optional.empty(),
        List.of());
  }

  public static DesignCircuit circuit(RangeDesign... ranges) {
    return new DesignCircuit(23, List.of(ranges), DesignAssumptions.USUAL);
  }

  /** Decades from 1 mA down, the smallest with a tenth of the set voltage. */
  public static DesignCircuit decades(int count, DesignPart.PassDevice pass, boolean network) {
    List<RangeDesign> ranges = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      boolean small = i == count - 1 && count > 2;
      double setV = small ? 0.4096 : 4.096;
      double ohm = setV * 1e3 * Math.pow(10, i);
      String name = "R" + (i + 1);
      ranges.add(
          full(
              "1e-" + (3 + i) + "A",
              setV,
              network ? inNetwork(name, ohm) : alone(name, ohm),
              pass));
    }
    return new DesignCircuit(23, ranges, DesignAssumptions.USUAL);
  }
}
