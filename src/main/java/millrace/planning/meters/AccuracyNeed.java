// SPDX-License-Identifier: Apache-2.0
package millrace.planning.meters;

import java.util.List;
import java.util.Optional;
import millrace.calibration.AccuracyStatement;
import millrace.evidence.Result;
import millrace.planning.LimitForecast;

/**
 * The accuracy that one part of an instrument's statement needs.
 *
 * @param group the part
 * @param statement the whole statement with the needed value of this part, rounded down to three
 *     digits
 * @param factor the factor on the statement that the search started from
 * @param usedFor the limits that it enters
 * @param binding the limit that allows no larger value; empty where the worst accuracy tried is
 *     enough
 */
public record AccuracyNeed(
    AccuracyGroup group,
    AccuracyStatement statement,
    double factor,
    List<LimitForecast> usedFor,
    Optional<LimitForecast> binding) {
  /** Copies the list. */
  public AccuracyNeed {
    usedFor = List.copyOf(usedFor);
  }

  /**
   * The ranges of the unit for which it is used.
   *
   * @return names, each once
   */
  public List<String> ranges() {
    return usedFor.stream()
        .map(LimitForecast::result)
        .map(Result::range)
        .flatMap(Optional::stream)
        .distinct()
        .toList();
  }

  /**
   * The limit of error of the statement at a value.
   *
   * @param value in base units, above 0
   * @return the limit of error as a share of the value
   */
  public double totalAt(double value) {
    double fullScale = group.fullScale().orElse(value);
    return statement.ofReading()
        + (statement.ofFullScale() * fullScale + statement.absolute()) / value;
  }
}
