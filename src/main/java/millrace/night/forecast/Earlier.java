// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import millrace.assessment.Assessment;
import millrace.assessment.screening.WithdrawnPoints;
import millrace.assessment.tally.PointMeterSettings;
import millrace.assessment.tally.PointReadingTally;
import millrace.assessment.tally.RunReadingTallies;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.PointKind;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.logbook.RunReader;

/**
 * What an earlier run tells a forecast: how far off that unit was, and how much the readings of
 * each meter range scattered. Immutable, thread-safe.
 */
final class Earlier {
  /** There is no earlier run: a unit as it is meant to be, meters that scatter by their steps. */
  static final Earlier NONE = new Earlier(Map.of(), Map.of(), Map.of());

  private static final double PPM = 1e-6;

  private final Map<String, Double> errors;
  private final Map<String, Double> perK;
  private final Map<String, Double> scatter;

  private Earlier(
      Map<String, Double> errors, Map<String, Double> perK, Map<String, Double> scatter) {
    this.errors = Map.copyOf(errors);
    this.perK = Map.copyOf(perK);
    this.scatter = Map.copyOf(scatter);
  }

  /**
   * What a run tells.
   *
   * @param reader the run
   * @param assessment of it
   * @return current error and tempco by range, scatter by meter range
   */
  static Earlier of(RunReader reader, Assessment assessment) {
    return new Earlier(
        values(assessment.results(), ResultQuantity.CURRENT_ERROR),
        values(assessment.results(), ResultQuantity.TEMPCO),
        scatter(reader));
  }

  /** The first value of each range, as ratios. */
  private static Map<String, Double> values(List<Result> results, ResultQuantity quantity) {
    Map<String, Double> first = new HashMap<>();
    for (Result r : results) {
      if (r.quantity() == quantity
          && r.judgement().isEmpty()
          && r.range().isPresent()
          && r.outcome() instanceof ComputationOutcome.Value v) {
        first.putIfAbsent(r.range().get(), v.value() * PPM);
      }
    }
    return first;
  }

  /** Standard deviation of single readings within points, pooled by what the meter was set to. */
  private static Map<String, Double> scatter(RunReader reader) {
    Map<String, Double> squares = new HashMap<>();
    Map<String, Double> free = new HashMap<>();
    Set<Long> withdrawn = WithdrawnPoints.of(reader, new ArrayList<>());
    for (PointReadingTally tally :
        RunReadingTallies.of(reader, withdrawn).points(PointKind.MEASURE)) {
      for (MeasuredSignal signal : List.of(MeasuredSignal.CURRENT, MeasuredSignal.VOLTAGE)) {
        String key = key(signal, PointMeterSettings.range(tally.point(), signal));
        tally
            .of(signal)
            .filter(readings -> readings.n() > 1)
            .ifPresent(
                readings -> {
                  squares.merge(key, readings.sumOfSquares(), Double::sum);
                  free.merge(key, readings.n() - 1.0, Double::sum);
                });
      }
    }
    Map<String, Double> pooled = new HashMap<>();
    squares.forEach((key, sum) -> pooled.put(key, Math.sqrt(sum / free.get(key))));
    return pooled;
  }

  private static String key(MeasuredSignal signal, String set) {
    return signal.text() + " " + set;
  }

  /**
   * How far off it was.
   *
   * @param range the name of a range
   * @param kelvin above the reference temperature, K
   * @return a ratio of the nominal current; 0 where nothing is known
   */
  double errorOf(String range, double kelvin) {
    return errors.getOrDefault(range, 0.0) + perK.getOrDefault(range, 0.0) * kelvin;
  }

  /**
   * How much readings scattered.
   *
   * @param signal what is read
   * @param set the range as the meter reads it back
   * @return standard deviation of one reading, A or V; empty where nothing is known
   */
  Optional<Double> scatterOf(MeasuredSignal signal, String set) {
    return Optional.ofNullable(scatter.get(key(signal, set)));
  }
}
