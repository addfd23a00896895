package millrace.assessment;

import java.util.List;
import java.util.Optional;

/** How the readings of a point become a current at a voltage. */
interface Reduction {
  /**
   * Reduces one point.
   *
   * @param tally its readings
   * @return the current at a voltage; empty if the point has no current
   */
  Optional<ReducedPoint> of(PointTally tally);

  /** What a reader must know of all points. */
  List<String> notes();
}
