// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.List;
import java.util.Optional;

/**
 * One possible cause with its evidence (methods.md 9).
 *
 * @param cause what it is, see {@link ErrorCause#text()}; or {@link #NOTHING}
 * @param of the part, network or meter; empty for {@link #NOTHING}
 * @param size how large it is; empty for {@link #NOTHING}
 * @param probability of the models that contain it, 0 to 1
 * @param notSeparableFrom other causes that explain the same, by name
 * @param separatedBy the measurement that would tell them apart; empty if there are none
 */
public record Cause(
    String cause,
    Optional<String> of,
    Optional<Size> size,
    double probability,
    List<String> notSeparableFrom,
    Optional<String> separatedBy) {

  /** Stands for a unit within its tolerances. */
  public static final String NOTHING = "nothing abnormal";

  /** Copies the list. */
  public Cause {
    notSeparableFrom = List.copyOf(notSeparableFrom);
  }

  /**
   * How large a cause is.
   *
   * @param value in its unit, signed
   * @param unit ppm, V, A, ohm, ppm/K or V/K
   * @param standardUncertainty u, in the same unit
   * @param expandedUncertainty U, in the same unit
   */
  public record Size(
      double value, String unit, double standardUncertainty, double expandedUncertainty) {}

  /**
   * The cause with its part, as others name it.
   *
   * @return for example {@code range resistor R2}
   */
  public String name() {
    return of.map(o -> cause + " " + o).orElse(cause);
  }
}
