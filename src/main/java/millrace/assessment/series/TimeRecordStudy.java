// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.series;

import java.util.List;
import millrace.analysis.series.TimeSeries;
import millrace.evidence.Result;

/**
 * A current over time.
 *
 * @param range the range
 * @param nominalA its nominal current, A, not 0
 * @param series the readings
 * @param results the results of this record, not judged
 */
public record TimeRecordStudy(
    String range, double nominalA, TimeSeries series, List<Result> results) {
  /** Copies the list. */
  public TimeRecordStudy {
    results = List.copyOf(results);
  }
}
