// SPDX-License-Identifier: Apache-2.0
package millrace.run.interlock;

import java.time.Duration;
import java.util.Optional;
import millrace.evidence.IncidentKind;
import millrace.run.control.NightRequests;
import millrace.run.control.RunRequestFile;
import millrace.run.journal.Journal;
import millrace.sequence.Plan.PlannedPoint;

/**
 * Acts on requests from other terminals between points and during soaks; each is stored as an
 * incident. Single-threaded.
 */
public final class RemoteRequestHandler {
  private static final Duration BETWEEN_LOOKS = Duration.ofSeconds(2);

  private final NightRequests requests;
  private final Journal journal;
  private final InterlockWaiting waiting;
  private final PlanRequests plan;
  private Optional<PlannedPoint> now = Optional.empty();
  private boolean paused;
  private boolean wasPaused;

  /**
   * Listens for what other terminals ask of the runs of a night.
   *
   * @param journal names the runs and takes each request as an incident of all of them
   * @param waiting passes the time while the run is paused
   * @param plan takes what is asked of the plan
   */
  public RemoteRequestHandler(Journal journal, InterlockWaiting waiting, PlanRequests plan) {
    this.requests = journal.requests();
    this.journal = journal;
    this.waiting = waiting;
    this.plan = plan;
  }

  /** Takes requests that change the plan of a run. */
  public interface PlanRequests {
    /**
     * Leaves out what is left of the stay at a temperature.
     *
     * @param asked the request
     * @param at the point that is under way
     */
    void skip(RunRequestFile.Asked asked, PlannedPoint at);

    /**
     * Puts one more temperature into the plan, at which all is done as at the one under way.
     *
     * @param asked the request
     * @param at the point that is under way
     */
    void add(RunRequestFile.Asked asked, PlannedPoint at);

    /**
     * Why a point is not measured.
     *
     * @param point of the plan
     * @return in words; empty if it is measured
     */
    Optional<String> without(PlannedPoint point);
  }

  /** Reads requests and waits while the run is paused; the reason if the point is to be skipped. */
  public Optional<String> before(PlannedPoint point) {
    hear(point);
    while (paused) {
      wasPaused = true;
      journal.tell(o -> o.waiting("paused from another terminal", Optional.empty()));
      waiting.rest(BETWEEN_LOOKS);
      hear(point);
    }
    return plan.without(point);
  }

  /** Reads requests during a soak; true if the soak is not needed any more. */
  public boolean unwanted(PlannedPoint point) {
    hear(point);
    return plan.without(point).isPresent();
  }

  /** Reads requests during other waits; they take effect at the next point. */
  public void listen() {
    now.ifPresent(this::hear);
  }

  /** Whether the run was paused since it was asked last. */
  public boolean wasPaused() {
    boolean was = wasPaused;
    wasPaused = false;
    return was;
  }

  private void hear(PlannedPoint point) {
    now = Optional.of(point);
    for (RunRequestFile.Asked asked : requests.fresh()) {
      journal.incident(
          Optional.empty(),
          IncidentKind.OPERATOR,
          "asked from another terminal: %s".formatted(asked.text()));
      switch (asked.request()) {
        case PAUSE -> paused = true;
        case CONTINUE -> paused = false;
        case SKIP_TEMPERATURE -> plan.skip(asked, point);
        case ADD_TEMPERATURE -> plan.add(asked, point);
        case STOP -> {} // the listener acts on it at once
      }
    }
  }
}
