// SPDX-License-Identifier: Apache-2.0
package millrace.calibration;

import java.util.Optional;
import millrace.quantity.ClosedInterval;

/**
 * An accuracy statement: +/-(ratio of reading + ratio of full scale + absolute), methods.md 2.2.
 *
 * @param fullScale the range it is for, base units; empty for all
 * @param ofReading p, a ratio, 0 or more
 * @param ofFullScale q, a ratio, 0 or more
 * @param absolute in base units (K for temperatures), 0 or more
 * @param coverageFactor k if the statement gives one; empty: limits of a rectangle
 * @param transfer short-term linearity, ratio of full scale; empty: none stated
 * @param noise root mean square of the readings of one line cycle, ratio of full scale; it falls as
 *     the square root of the cycles; empty: not stated
 * @param tempcoPerK of reading per kelvin outside the band, 1/K
 * @param bandDegC the lab temperatures that it holds for
 * @param burdenOhm resistance of a current meter, ohm
 * @param burdenUncertainty of that, standard, a ratio
 * @param inputOhm input resistance of a voltmeter, ohm; empty: not stated
 * @param inputUncertainty of that, standard, a ratio
 */
public record AccuracyStatement(
    Optional<Double> fullScale,
    double ofReading,
    double ofFullScale,
    double absolute,
    Optional<Double> coverageFactor,
    Optional<Double> transfer,
    Optional<Double> noise,
    double tempcoPerK,
    Optional<ClosedInterval> bandDegC,
    double burdenOhm,
    double burdenUncertainty,
    Optional<Double> inputOhm,
    double inputUncertainty) {
  /** Nothing stated. */
  public static final AccuracyStatement NONE =
      new AccuracyStatement(
          Optional.empty(),
          0,
          0,
          0,
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          0,
          Optional.empty(),
          0,
          0,
          Optional.empty(),
          0);

  /** Checks that sizes are not negative. */
  public AccuracyStatement {
    double least = Math.min(Math.min(ofReading, ofFullScale), Math.min(absolute, tempcoPerK));
    if (!(least >= 0 && burdenOhm >= 0 && noise.orElse(0.0) >= 0)) {
      throw new IllegalArgumentException(
          "an accuracy statement with a negative figure; expected 0 or more");
    }
    if (coverageFactor.isPresent() && !(coverageFactor.get() > 0)) {
      throw new IllegalArgumentException(
          "k is " + coverageFactor.get() + "; expected above 0, such as 2");
    }
  }
}
