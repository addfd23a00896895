// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.assessment.Assessor;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.logbook.RunReader;

/**
 * What an earlier run tells a forecast: how far off that unit was, and how much the readings of
 * each meter range and the current of each range scattered. Immutable, thread-safe.
 */
public final class Earlier {
  /** There is no earlier run: a unit as it is meant to be, the noise that is stated or usual. */
  public static final Earlier NONE = new Earlier(Map.of(), Map.of(), Map.of(), EarlierScatter.NONE);

  private static final double PPM = 1e-6;

  private final Map<String, Double> errors;
  private final Map<String, Double> perK;
  private final Map<String, Double> perV;
  private final EarlierScatter scatter;

  private Earlier(
      Map<String, Double> errors,
      Map<String, Double> perK,
      Map<String, Double> perV,
      EarlierScatter scatter) {
    this.errors = Map.copyOf(errors);
    this.perK = Map.copyOf(perK);
    this.perV = Map.copyOf(perV);
    this.scatter = scatter;
  }

  /**
   * What a run tells.
   *
   * @param reader the run
   * @param lineHz frequency of the line, Hz
   * @return current error, tempco and load regulation by range, and how its readings scattered
   */
  public static Earlier of(RunReader reader, double lineHz) {
    List<Result> results = Assessor.assess(reader).results();
    return new Earlier(
        values(results, ResultQuantity.CURRENT_ERROR),
        values(results, ResultQuantity.TEMPCO),
        values(results, ResultQuantity.LOAD_REGULATION),
        EarlierScatter.of(reader, lineHz));
  }

  /** The scatter alone: a unit as it is meant to be. */
  Earlier scatterAlone() {
    return new Earlier(Map.of(), Map.of(), Map.of(), scatter);
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
   * How its current depended on the voltage.
   *
   * @param range the name of a range
   * @return ratio per volt; empty where nothing is known
   */
  Optional<Double> perVoltOf(String range) {
    return Optional.ofNullable(perV.get(range));
  }

  /**
   * How much the readings of a meter scattered without a unit's share.
   *
   * @param signal what is read
   * @param set the range as the meter reads it back
   * @return standard deviation of a reading of one line cycle, A or V; empty where nothing is known
   */
  Optional<Double> noiseOf(MeasuredSignal signal, String set) {
    return scatter.noiseOf(signal, set);
  }

  /**
   * How much the current of that unit scattered.
   *
   * @param range the name of a range
   * @return ratio of the nominal current, of readings of 1 s; empty where nothing is known
   */
  Optional<Double> whiteOf(String range) {
    return scatter.whiteOf(range);
  }
}
