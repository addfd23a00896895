// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.drift;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Holds each value of a series against those before it, by cumulative sums and by an exponentially
 * weighted moving average of their scores (methods.md 8.1). After a signal, mean and spread stay
 * those from before the shift until the values are back at them; so a shift that stays is not
 * learnt as the new normal. Not thread-safe.
 */
public final class DriftChart {
  private final List<Double> values = new ArrayList<>();
  private final Cusum sums;
  private final MovingAverage average;
  private SelfStartingScores learnt = new SelfStartingScores();
  private Optional<Integer> since = Optional.empty();
  private int scored;

  /**
   * The limits of both charts.
   *
   * @param h of the cumulative sums
   * @param widthFactor of the moving average, in its standard deviations
   */
  public record Limits(double h, double widthFactor) {
    /**
     * The limits for several series of one process.
     *
     * @param series how many series are watched side by side, 1 or more
     * @param falsely average number of values between two false signals of all of them together, 10
     *     or more
     * @return limits of each chart: each signals falsely so much more seldom as there are charts
     */
    public static Limits of(int series, double falsely) {
      double each = falsely * series * 2;
      return new Limits(
          AverageRunLength.cusumLimit(Cusum.K, each),
          AverageRunLength.movingAverageFactor(MovingAverage.LAMBDA, each));
    }
  }

  /**
   * A shift that is seen at the last value.
   *
   * @param since index of the first value after the shift, from 0
   * @param before mean before the shift, in the unit of the values
   * @param now mean since the shift
   * @param sd standard deviation before the shift, above 0
   */
  public record Shift(int since, double before, double now, double sd) {
    /**
     * The size of the shift.
     *
     * @return in standard deviations, negative downwards
     */
    public double inSd() {
      return (now - before) / sd;
    }
  }

  /**
   * An empty chart.
   *
   * @param limits its limits
   */
  public DriftChart(Limits limits) {
    this.sums = new Cusum(limits.h());
    this.average = new MovingAverage(limits.widthFactor());
  }

  /**
   * Takes the next value.
   *
   * @param value finite
   */
  public void add(double value) {
    values.add(value);
    OptionalDouble score = learnt.of(value);
    if (score.isPresent()) {
      scored++;
      sums.add(score.getAsDouble());
      average.add(score.getAsDouble());
    }
    if (since.isPresent()) {
      endIfBack();
    } else if (sums.signals() || average.signals()) {
      begin();
    } else {
      learnt.learn(value);
    }
  }

  private void begin() {
    int first = Math.max(values.size() - scored, values.size() - Math.max(1, sums.length()));
    since = Optional.of(first);
    learnt = new SelfStartingScores();
    values.subList(0, first).forEach(learnt::learn);
    sums.restartHalfWay();
    average.restart();
  }

  private void endIfBack() {
    if (sums.signals()) {
      sums.restartHalfWay();
    } else if (sums.isZero()) {
      since = Optional.empty();
      average.restart();
    }
  }

  /**
   * The shift at the last value.
   *
   * @return empty if the last values are like those before them, or too few came before
   */
  public Optional<Shift> shift() {
    return since
        .filter(first -> learnt.sd() > 0)
        .map(
            first ->
                new Shift(
                    first,
                    learnt.mean(),
                    values.subList(first, values.size()).stream()
                        .mapToDouble(Double::doubleValue)
                        .average()
                        .orElseThrow(),
                    learnt.sd()));
  }
}
