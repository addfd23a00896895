// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.design;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

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
 * @param firstStage what makes the set voltage from the reference; empty where it is the
 *     reference's own
 * @param taps further resistors of a tapped string in series with the range resistor
 */
public record RangeDesign(
    String name,
    double nominalA,
    double loadOhm,
    double setVoltageV,
    DesignPart.Reference reference,
    DesignPart.Resistor resistor,
    Optional<DesignPart.Amplifier> amplifier,
    Optional<DesignPart.PassDevice> passDevice,
    List<DesignPart.SeriesDrop> series,
    Optional<DesignPart.Leakage> leakage,
    Optional<DesignPart.Supply> supply,
    Optional<DesignPart.FirstStage> firstStage,
    List<DesignPart.Resistor> taps) {

  /** Stands for the pass device where there is none. */
  private static final String OUTPUT_STAGE = "output stage";

  /** Copies the list, checks the numbers. */
  public RangeDesign {
    series = List.copyOf(series);
    taps = List.copyOf(taps);
    if (nominalA == 0 || !(setVoltageV > 0) || !(loadOhm >= 0)) {
      throw new IllegalArgumentException(
          "range '%s' has nominal current %s A, set voltage %s V, load %s ohm; expected not 0,"
                  .formatted(name, nominalA, setVoltageV, loadOhm)
              + " above 0, and 0 or more");
    }
  }

  /**
   * The resistors across which the set voltage is held.
   *
   * @return the range resistor first, then the rest of its string
   */
  public List<DesignPart.Resistor> string() {
    return Stream.concat(Stream.of(resistor), taps.stream()).toList();
  }

  /**
   * Every resistor and amplifier that makes its current, those of the first stage too.
   *
   * @return resistors in the order of the signal
   */
  public List<DesignPart.Resistor> resistors() {
    Stream<DesignPart.Resistor> first =
        firstStage.stream().flatMap(s -> Stream.concat(Stream.of(s.resistor()), s.top().stream()));
    return Stream.concat(first, string().stream()).toList();
  }

  /**
   * The quadratic temperature coefficient of the current as its parts state it, as one standard
   * deviation: the root of the sum of squares of their half-widths, each equally likely within,
   * weighted by their share of what they are in series with; what one part does not state is
   * assumed (methods.md 11.1).
   *
   * @return 1/K^2, above 0; empty where no part states any
   */
  public Optional<Double> statedCurvaturePerK2() {
    boolean any =
        reference.curvaturePerK2().isPresent()
            || resistors().stream().anyMatch(r -> r.curvaturePerK2().isPresent());
    double squares = Math.pow(DesignAssumptions.curvature(reference), 2) + curvature(string());
    if (firstStage.isPresent()) {
      squares +=
          curvature(firstStage.get().top()) + curvature(List.of(firstStage.get().resistor()));
    }
    return Optional.of(Math.sqrt(squares / 3)).filter(b -> any && b > 0);
  }

  private static double curvature(List<DesignPart.Resistor> string) {
    double ohm = string.stream().mapToDouble(DesignPart.Resistor::valueOhm).sum();
    return string.stream()
        .mapToDouble(r -> Math.pow(DesignAssumptions.curvature(r) * r.valueOhm() / ohm, 2))
        .sum();
  }

  /**
   * What the current passes last.
   *
   * @return the name of the pass device, {@code output stage} where there is none
   */
  public String passName() {
    return passDevice.map(DesignPart.PassDevice::name).orElse(OUTPUT_STAGE);
  }
}
