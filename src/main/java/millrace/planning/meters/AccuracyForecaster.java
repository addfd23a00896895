// SPDX-License-Identifier: Apache-2.0
package millrace.planning.meters;

import java.util.List;
import millrace.bench.BenchFile;
import millrace.planning.LimitForecast;

/** Tells what one and the same night would tell, with instruments of another accuracy. */
@FunctionalInterface
public interface AccuracyForecaster {
  /**
   * What the night will be able to say, by the reduction and assessment of any run.
   *
   * @param bench a bench with the same instruments, of which other accuracies are stated
   * @return each limit
   */
  List<LimitForecast> limits(BenchFile bench);
}
