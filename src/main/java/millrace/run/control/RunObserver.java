// SPDX-License-Identifier: Apache-2.0
package millrace.run.control;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import millrace.evidence.Incident;
import millrace.evidence.Point;
import millrace.evidence.Reading;
import millrace.sequence.Plan.PlannedPoint;

/**
 * Is called with what a run does, always after the logbook has it. An observer that throws is noted
 * and not called again; it never stops a run. All methods are called from the run's own thread.
 */
public interface RunObserver {
  /**
   * The run begins.
   *
   * @param run its local number
   * @param points how many points the plan has
   * @param done how many of them are in the logbook already
   */
  default void began(long run, int points, int done) {}

  /**
   * A point begins.
   *
   * @param point the point
   * @param ahead how far the run is
   */
  default void point(PlannedPoint point, Ahead ahead) {}

  /**
   * How far a run is.
   *
   * @param before how many points of the plan come before the one that begins
   * @param points how many points the plan has by now
   * @param left time left for the whole run, estimated
   */
  record Ahead(int before, int points, Duration left) {}

  /**
   * The run waits.
   *
   * @param why what for
   * @param left how long it will take; empty if that cannot be estimated yet
   */
  default void waiting(String why, Optional<Duration> left) {}

  /**
   * A point is in the logbook.
   *
   * @param point the point
   * @param readings its readings
   */
  default void committed(Point point, List<Reading> readings) {}

  /**
   * Tells whether a point needs not be measured, since enough is known without it; asked before
   * each point that is due.
   *
   * @param next the point
   * @return why it is left out, a clause; empty if it is wanted
   */
  default Optional<String> unneeded(PlannedPoint next) {
    return Optional.empty();
  }

  /**
   * A change of the plan is in the logbook.
   *
   * @param what kind, change, reason and who, in one line
   */
  default void changed(String what) {}

  /**
   * An incident is in the logbook, or could not be written there and must be shown all the same.
   *
   * @param incident the incident
   */
  default void incident(Incident incident) {}

  /**
   * An interlock was looked at and holds; the logbook does not keep that.
   *
   * @param look what was seen
   */
  default void looked(InterlockLook look) {}

  /**
   * The run ended, well or not, and the bench was put in its safe state as far as that went.
   *
   * @param outcome what came of it
   */
  default void ended(RunOutcome outcome) {}
}
