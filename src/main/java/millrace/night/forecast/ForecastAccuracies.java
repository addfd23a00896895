// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import millrace.assessment.Assessor;
import millrace.assessment.basis.JudgementBasis;
import millrace.bench.BenchFile;
import millrace.evidence.Result;
import millrace.logbook.RunEvaluation;
import millrace.logbook.RunReader;
import millrace.planning.LimitForecast;
import millrace.planning.meters.AccuracyForecaster;

/**
 * Forecasts for planning the results of a computed run with instruments of another accuracy: its
 * readings have no errors and stay the same; reduction and assessment use the other statements
 * (methods.md 12). Several draws of the noise, of which each limit takes the one with the middle U.
 */
public final class ForecastAccuracies implements AccuracyForecaster {
  private final List<Draw> draws;

  /** A computed run, and what it is assessed by. */
  private record Draw(RunReader reader, JudgementBasis basis) {
    List<Result> results(BenchFile bench) {
      RunEvaluation.OtherBench other = new RunEvaluation.OtherBench("", Optional.empty());
      return Assessor.assess(reader, basis.with(bench, other)).results();
    }
  }

  private ForecastAccuracies(List<RunReader> readers) {
    this.draws = readers.stream().map(r -> new Draw(r, Assessor.keptBasis(r))).toList();
  }

  /**
   * Computes a run once, with several draws of the noise.
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
    return ForecastRun.read(order, earlier, readers -> with.apply(new ForecastAccuracies(readers)));
  }

  @Override
  public List<LimitForecast> limits(BenchFile bench) {
    List<List<Result>> results = draws.parallelStream().map(draw -> draw.results(bench)).toList();
    return LimitForecast.of(MiddleResults.of(results), bench);
  }
}
