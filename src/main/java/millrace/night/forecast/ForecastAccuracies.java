// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import millrace.assessment.Assessor;
import millrace.assessment.basis.JudgementBasis;
import millrace.bench.BenchFile;
import millrace.logbook.RunEvaluation;
import millrace.logbook.RunReader;
import millrace.planning.LimitForecast;
import millrace.planning.meters.AccuracyForecaster;

/**
 * Forecasts for planning the results of a computed run with instruments of another accuracy: its
 * readings have no errors and stay the same; reduction and assessment use the other statements
 * (methods.md 12).
 */
public final class ForecastAccuracies implements AccuracyForecaster {
  private final RunReader reader;
  private final JudgementBasis basis;

  private ForecastAccuracies(RunReader reader) {
    this.reader = reader;
    this.basis = Assessor.keptBasis(reader);
  }

  /**
   * Computes a run once.
   *
   * @param order the run
   * @param earlier the data of an earlier unit; {@link Earlier#NONE} for a unit as its datasheet
   *     describes it
   * @param with the query on the computed run
   * @param <T> the type of its answer
   * @return the answer
   */
  public static <T> T of(
      ForecastRun.Order order, Earlier earlier, Function<AccuracyForecaster, T> with) {
    return ForecastRun.read(order, earlier, reader -> with.apply(new ForecastAccuracies(reader)));
  }

  @Override
  public List<LimitForecast> limits(BenchFile bench) {
    RunEvaluation.OtherBench other = new RunEvaluation.OtherBench("", Optional.empty());
    return LimitForecast.of(Assessor.assess(reader, basis.with(bench, other)).results(), bench);
  }
}
