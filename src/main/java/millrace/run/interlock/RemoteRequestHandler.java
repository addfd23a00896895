// SPDX-License-Identifier: Apache-2.0
package millrace.run.interlock;

import java.time.Duration;
import java.util.HashSet;
import java.util.Optional;
import java.util.Set;
import millrace.evidence.IncidentKind;
import millrace.run.control.RemoteRequests;
import millrace.run.journal.Journal;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Plan.TemperatureRule;

/**
 * Does what somebody at another terminal wishes, between points and while a unit soaks; each wish
 * is an incident. Single-threaded.
 */
public final class RemoteRequestHandler {
  private static final Duration BETWEEN_LOOKS = Duration.ofSeconds(2);

  private final RemoteRequests requests;
  private final Journal journal;
  private final InterlockWaiting waiting;
  private final Adding adding;
  private final Set<Integer> skippedStays = new HashSet<>();
  private Optional<PlannedPoint> now = Optional.empty();
  private boolean paused;
  private boolean wasPaused;

  /**
   * Listens for what other terminals ask of one run.
   *
   * @param journal names the run and takes each request as an incident
   * @param waiting passes the time while the run is paused
   * @param adding puts a temperature into the plan
   */
  public RemoteRequestHandler(Journal journal, InterlockWaiting waiting, Adding adding) {
    this.requests = RemoteRequests.of(journal.logbook(), journal.run());
    this.journal = journal;
    this.waiting = waiting;
    this.adding = adding;
  }

  /** Puts one more temperature into the plan, as is done at a point. */
  public interface Adding {
    void add(double degC, PlannedPoint at);
  }

  /** Hears wishes, and waits while a pause lasts; why the point is left out, if it is. */
  public Optional<String> before(PlannedPoint point) {
    hear(point);
    while (paused) {
      wasPaused = true;
      journal.tell(o -> o.waiting("paused from another terminal", Optional.empty()));
      waiting.rest(BETWEEN_LOOKS);
      hear(point);
    }
    return skipped(point)
        ? Optional.of("its temperature was skipped from another terminal")
        : Optional.empty();
  }

  /** Hears wishes while a unit soaks for a point; true if it need not go on. */
  public boolean unwanted(PlannedPoint point) {
    hear(point);
    return skipped(point);
  }

  private boolean skipped(PlannedPoint point) {
    return point.temperature().filter(rule -> skippedStays.contains(rule.visit())).isPresent();
  }

  /** Hears wishes while something else is waited for; they are heeded at the next point. */
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
    for (RemoteRequests.Asked asked : requests.fresh()) {
      journal.incident(
          IncidentKind.OPERATOR, "asked from another terminal: %s".formatted(asked.text()));
      switch (asked.request()) {
        case PAUSE -> paused = true;
        case CONTINUE -> paused = false;
        case SKIP_TEMPERATURE ->
            point.temperature().map(TemperatureRule::visit).ifPresent(skippedStays::add);
        case ADD_TEMPERATURE -> adding.add(asked.degC().orElseThrow(), point);
        case STOP -> {} // heard by the listener, at once
      }
    }
  }
}
