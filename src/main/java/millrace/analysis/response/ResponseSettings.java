// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Settings of a response in addition to the measured points.
 *
 * @param referenceDegC T_ref, degC
 * @param taken coefficients from elsewhere, by range (methods.md 11.6)
 * @param curvaturePerK2 standard deviation of b_2 where the parts of a range state a curvature, by
 *     range, 1/K^2, above 0 (methods.md 11.1)
 */
public record ResponseSettings(
    double referenceDegC, Map<String, List<Taken>> taken, Map<String, Double> curvaturePerK2) {

  /**
   * Coefficients from another source.
   *
   * @param from the source
   * @param coefficients their values with the covariance for this unit: the source's own plus the
   *     spread between units
   */
  public record Taken(BorrowedCoefficients from, ResponseCoefficientSet coefficients) {}

  /** Copies the maps. */
  public ResponseSettings {
    taken = Map.copyOf(taken);
    curvaturePerK2 = Map.copyOf(curvaturePerK2);
  }

  /** s_b as the parts of a range state it, 1/K^2. */
  Optional<Double> curvature(String range) {
    return Optional.ofNullable(curvaturePerK2.get(range));
  }

  /**
   * The coefficients that a range takes from other sources; the first source with a coefficient
   * counts.
   */
  List<Taken> of(String range) {
    return Optional.ofNullable(taken.get(range)).orElse(List.of());
  }
}
