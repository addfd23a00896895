package millrace.analysis.design;

import java.util.List;
import java.util.Optional;

/**
 * What one range is made from.
 *
 * @param name the range
 * @param nominalA I_N, A; not 0
 * @param loadOhm the load at which its current is promised, ohm, 0 or more
 * @param setVoltageV the voltage held across the resistor, V, above 0
 * @param reference what the set voltage comes from
 * @param resistor the range resistor
 * @param amplifier what holds the voltage; empty for an ideal one
 * @param passDevice what the current passes; empty for an ideal one
 * @param series what drops voltage on the way out
 * @param leakage what leaks at the output; empty if nothing is stated
 * @param supply what feeds it; empty if not stated
 */
public record RangeDesign(
    String name,
    double nominalA,
    double loadOhm,
    double setVoltageV,
    Piece.Reference reference,
    Piece.Resistor resistor,
    Optional<Piece.Amplifier> amplifier,
    Optional<Piece.PassDevice> passDevice,
    List<Piece.SeriesDrop> series,
    Optional<Piece.Leakage> leakage,
    Optional<Piece.Supply> supply) {

  /** Stands for the pass device where there is none. */
  private static final String OUTPUT_STAGE = "output stage";

  /** Copies the list, checks the numbers. */
  public RangeDesign {
    series = List.copyOf(series);
    if (nominalA == 0 || !(setVoltageV > 0) || !(loadOhm >= 0)) {
      throw new IllegalArgumentException(
          "range '%s' has nominal current %s A, set voltage %s V, load %s ohm; expected not 0,"
                  .formatted(name, nominalA, setVoltageV, loadOhm)
              + " above 0, and 0 or more");
    }
  }

  /**
   * What the current passes last.
   *
   * @return the name of the pass device, {@code output stage} where there is none
   */
  public String passName() {
    return passDevice.map(Piece.PassDevice::name).orElse(OUTPUT_STAGE);
  }
}
