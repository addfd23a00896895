// SPDX-License-Identifier: Apache-2.0
package millrace.planning.meters;

import java.util.List;
import java.util.Optional;
import millrace.calibration.AccuracyStatement;
import millrace.evidence.Result;
import millrace.planning.LimitForecast;

/**
 * How accurate one part of an instrument has to be.
 *
 * @param group which part
 * @param statement the whole statement with this part as it has to be, rounded down to three digits
 * @param factor of it on the statement that it started from
 * @param usedFor limits that it enters
 * @param binding the limit that allows no more; empty where the worst that is looked at will do
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
   * Ranges of the unit that it is used for.
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
   * What the statement comes to at a value.
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
