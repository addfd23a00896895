// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.assessment.Assessor;
import millrace.bench.BenchFile;
import millrace.calibration.AccuracyStatement;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.logbook.RunReader;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.run.soak.BenchSpeedsFromFile;
import millrace.sequence.BenchSpeeds;
import millrace.sequence.BenchSpeeds.ReadingScatter;

/**
 * The data of an earlier run for a forecast: the errors of that unit, and the scatter of the
 * readings of each meter range and of the current of each range. Immutable, thread-safe.
 */
public final class Earlier {
  /** No earlier run: a unit with nominal parts, and the stated or usual noise. */
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
   * Reads the data of a run.
   *
   * @param reader the run
   * @param lineHz frequency of the line, Hz
   * @return current error, tempco and load regulation by range, and the scatter of its readings
   */
  public static Earlier of(RunReader reader, double lineHz) {
    List<Result> results = Assessor.assess(reader).results();
    return new Earlier(
        values(results, ResultQuantity.CURRENT_ERROR),
        values(results, ResultQuantity.TEMPCO),
        values(results, ResultQuantity.LOAD_REGULATION),
        EarlierScatter.of(reader, lineHz));
  }

  /**
   * How fast a bench is with the unit of the run: its readings scatter as they did, and it follows
   * its temperature as it did; what the run does not tell is as the bench file states it.
   *
   * @param file the bench file
   * @return its speeds
   */
  public BenchSpeeds speeds(BenchFile file) {
    BenchSpeeds stated = BenchSpeedsFromFile.of(file);
    return stated.with(
        new OfRun(this, file, stated.scatter()),
        perK.values().stream().mapToDouble(Math::abs).max());
  }

  /** The scatter of the run, else the stated one. */
  private record OfRun(Earlier run, BenchFile file, ReadingScatter stated)
      implements ReadingScatter {
    @Override
    public OptionalDouble ofMeterA(double nominalA, double lineCycles) {
      return BenchSpeedsFromFile.meterFor(file, nominalA)
          .flatMap(AccuracyStatement::fullScale)
          .flatMap(
              f -> run.noiseOf(MeasuredSignal.CURRENT, QuantityText.print(f, Dimension.CURRENT)))
          .map(noise -> OptionalDouble.of(noise / Math.sqrt(lineCycles)))
          .orElseGet(() -> stated.ofMeterA(nominalA, lineCycles));
    }

    @Override
    public double ofUnit(String range, double seconds) {
      return run.whiteOf(range)
          .map(white -> white / Math.sqrt(seconds))
          .orElseGet(() -> stated.ofUnit(range, seconds));
    }
  }

  /** The scatter alone, with a unit whose parts are nominal. */
  Earlier scatterAlone() {
    return new Earlier(Map.of(), Map.of(), Map.of(), scatter);
  }

  /**
   * The first value of each range, as ratios: at the reference, where a limit that holds elsewhere
   * has a value of its own; else that of the limit.
   */
  private static Map<String, Double> values(List<Result> results, ResultQuantity quantity) {
    Map<String, Double> first = new HashMap<>();
    for (boolean judged : new boolean[] {false, true}) {
      for (Result r : results) {
        if (r.quantity() == quantity
            && r.judgement().isPresent() == judged
            && r.range().isPresent()
            && r.outcome() instanceof ComputationOutcome.Value v) {
          first.putIfAbsent(r.range().get(), v.value() * PPM);
        }
      }
    }
    return first;
  }

  /**
   * The error of the current.
   *
   * @param range the name of a range
   * @param kelvin above the reference temperature, K
   * @return a ratio of the nominal current; 0 where none is known
   */
  double errorOf(String range, double kelvin) {
    return errors.getOrDefault(range, 0.0) + perK.getOrDefault(range, 0.0) * kelvin;
  }

  /**
   * The dependence of its current on the voltage.
   *
   * @param range the name of a range
   * @return ratio per volt; empty where none is known
   */
  Optional<Double> perVoltOf(String range) {
    return Optional.ofNullable(perV.get(range));
  }

  /**
   * The scatter of the readings of a meter without the contribution of the unit.
   *
   * @param signal the quantity that is read
   * @param set the range as the meter reads it back
   * @return standard deviation of a reading of one line cycle, A or V; empty where none is known
   */
  Optional<Double> noiseOf(MeasuredSignal signal, String set) {
    return scatter.noiseOf(signal, set);
  }

  /**
   * The scatter of the current of that unit.
   *
   * @param range the name of a range
   * @return ratio of the nominal current, of readings of 1 s; empty where none is known
   */
  Optional<Double> whiteOf(String range) {
    return scatter.whiteOf(range);
  }
}
