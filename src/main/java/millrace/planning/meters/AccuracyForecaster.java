// SPDX-License-Identifier: Apache-2.0
package millrace.planning.meters;

import java.util.List;
import millrace.bench.BenchFile;
import millrace.planning.LimitForecast;

/** Forecasts the results of one and the same night with instruments of another accuracy. */
@FunctionalInterface
public interface AccuracyForecaster {
  /**
   * The results of the night, by the reduction and assessment of any run.
   *
   * @param bench a bench with the same instruments and other stated accuracies
   * @return one forecast for each limit
   */
  List<LimitForecast> limits(BenchFile bench);
}
