// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.reduction;

import java.util.List;
import java.util.Optional;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.tally.PointReadingTally;
import millrace.evidence.Point;

/** How the readings of a point become a current at a voltage. */
public interface ReadingReduction {
  /**
   * Reduces one point.
   *
   * @param tally its readings
   * @return the current at a voltage; empty if the point has no current
   */
  Optional<ReducedPoint> of(PointReadingTally tally);

  /**
   * How the meter itself drifted while a record was taken (methods.md 2.7).
   *
   * @param point the record
   * @param fromS when it begins, from the start of the run, s
   * @param toS when it ends, s, later
   * @return a ratio per hour; empty if no check standard tells it
   */
  Optional<Estimate> meterPerHour(Point point, double fromS, double toS);

  /** What a reader must know of all points. */
  List<String> notes();
}
