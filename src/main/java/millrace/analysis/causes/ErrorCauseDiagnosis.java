// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Where the errors of a unit come from (methods.md 9): causes with their probability and size,
 * causes that cannot be separated with the measurement that would separate them, and the effect of
 * each cause alone.
 *
 * @param causes the likeliest first; causes that cannot be separated are listed together; {@link
 *     Cause#NOTHING} always among them
 * @param explained one per current that was used
 * @param unexplained residual of the observations under the likeliest model, relative to the
 *     expected one: about 1 where the model holds; empty without observations
 * @param change when the unit changed under the likeliest model; empty: it did not
 * @param notes what a reader must know
 */
public record ErrorCauseDiagnosis(
    List<Cause> causes,
    List<Explained> explained,
    OptionalDouble unexplained,
    Optional<MidRunChange> change,
    List<String> notes) {

  /**
   * Causes below this probability are not listed, unless they cannot be separated from a likely
   * one.
   */
  static final double LEAST_PROBABILITY = 0.01;

  /** Difference of chi^2 from which explanations are separated: odds of about 20 to 1. */
  static final double SEPARATED_CHI_SQUARED = 6;

  /** The most observations that are used. */
  static final int MOST = 400;

  /** Copies the lists. */
  public ErrorCauseDiagnosis {
    causes = List.copyOf(causes);
    explained = List.copyOf(explained);
    notes = List.copyOf(notes);
  }

  /**
   * One current with what each cause alone would give (methods.md 9).
   *
   * @param range the range
   * @param terminalV voltage at the terminals, V
   * @param degC temperature of the unit, degC
   * @param measuredPpm I/I_N - 1, ppm of I_N
   * @param standardUncertaintyPpm of it, ppm of I_N
   * @param nominalPpm what the nominal design gives, ppm of I_N
   * @param normalPpm the standard deviation that tolerances allow about it, ppm of I_N
   * @param byCause what each listed cause alone would give, by {@link Cause#name()}, ppm of I_N
   */
  public record Explained(
      String range,
      double terminalV,
      double degC,
      double measuredPpm,
      double standardUncertaintyPpm,
      double nominalPpm,
      double normalPpm,
      Map<String, Double> byCause) {}
}
