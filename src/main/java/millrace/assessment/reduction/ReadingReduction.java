// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.reduction;

import java.util.List;
import java.util.Optional;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.tally.PointReadingTally;
import millrace.evidence.Point;

/** Reduces the readings of a point to a current at a voltage. */
public interface ReadingReduction {
  /**
   * Reduces one point.
   *
   * @param tally its readings
   * @return the current at a voltage; empty if the point has no current
   */
  Optional<ReducedPoint> of(PointReadingTally tally);

  /**
   * The drift of the meter during a record (methods.md 2.7).
   *
   * @param point the record
   * @param fromS when it begins, from the start of the run, s
   * @param toS when it ends, s, later
   * @return a ratio per hour; empty without a check standard
   */
  Optional<Estimate> meterPerHour(Point point, double fromS, double toS);

  /** Notes on all points. */
  List<String> notes();
}
