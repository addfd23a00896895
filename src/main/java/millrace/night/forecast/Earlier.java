// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.assessment.Assessment;
import millrace.bench.role.RoleName;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
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
    Map<String, double[]> sums = new HashMap<>();
    List<Point> measured =
        reader.points().stream().filter(p -> p.kind() == PointKind.MEASURE).toList();
    for (Point point : measured) {
      List<Reading> readings = reader.readings(point.id());
      for (MeasuredSignal signal : List.of(MeasuredSignal.CURRENT, MeasuredSignal.VOLTAGE)) {
        double[] values =
            readings.stream()
                .filter(r -> r.signal() == signal && r.state() == ReadingState.NUMBER)
                .mapToDouble(r -> r.value().orElseThrow())
                .toArray();
        String set = point.settings().get(rangeSetting(signal));
        if (set != null && values.length > 1) {
          add(sums.computeIfAbsent(signal.text() + " " + set, k -> new double[2]), values);
        }
      }
    }
    Map<String, Double> pooled = new HashMap<>();
    sums.forEach((key, s) -> pooled.put(key, Math.sqrt(s[0] / s[1])));
    return pooled;
  }

  /** Under which name a point keeps the range that a meter was in. */
  private static String rangeSetting(MeasuredSignal signal) {
    return (signal == MeasuredSignal.CURRENT ? RoleName.CURRENT_METER : RoleName.VOLTMETER).text()
        + " range";
  }

  private static void add(double[] sums, double[] values) {
    double mean = 0;
    for (double v : values) {
      mean += v / values.length;
    }
    for (double v : values) {
      sums[0] += (v - mean) * (v - mean);
    }
    sums[1] += values.length - 1;
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
    return Optional.ofNullable(scatter.get(signal.text() + " " + set));
  }
}
