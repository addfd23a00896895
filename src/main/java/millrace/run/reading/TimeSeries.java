// SPDX-License-Identifier: Apache-2.0
package millrace.run.reading;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.Reading;
import millrace.fault.InterlockException;
import millrace.logbook.RunWriter;
import millrace.quantity.Dimension;
import millrace.quantity.Quantities;
import millrace.quantity.Spans;
import millrace.run.journal.Journal;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Task;

/**
 * Current over time at one condition, until its span is over or the current is gone. What was read
 * is in the logbook at most a second later, however it ends. Single-threaded.
 */
public final class TimeSeries {
  private static final Duration KEPT_EVERY = Duration.ofSeconds(1);

  private final RunWorkers hands;
  private final Journal journal;
  private final BegunPoint draft;
  private final Task.Watch task;
  private final double spanS;
  private final Map<String, String> settings;
  private final RunWriter.OpenPoint open;
  private Optional<String> trouble = Optional.empty();
  private boolean flowed;
  private boolean gone;

  /** Begins a record where everything is set and settled. */
  public TimeSeries(RunWorkers hands, PlannedPoint point, Task.Watch task, double spanS) {
    this.hands = hands;
    this.journal = hands.journal();
    this.task = task;
    this.spanS = spanS;
    this.draft = BegunPoint.of(point, PointKind.TIME_SERIES, journal.elapsed());
    this.settings = hands.station().settings();
    this.open = journal.open(draft.open(settings));
    this.flowed = !task.fromPowerOn();
  }

  /**
   * Takes it to its end.
   *
   * @return the point; flagged where no current flowed at its end
   * @throws InterlockException if the run is to end; what was read stays, flagged
   */
  public Point take() {
    try {
      readings();
    } catch (InterlockException e) {
      open.close(ended(Optional.of(e.getMessage())));
      throw e;
    }
    hands.vouching().check();
    Point closed = ended(trouble);
    open.close(closed);
    journal.tell(o -> o.committed(closed, List.of()));
    return closed;
  }

  private Point ended(Optional<String> why) {
    return draft.done(why, journal.elapsed(), settings);
  }

  private void readings() {
    List<Reading> chunk = new ArrayList<>();
    Duration until = draft.began().plus(Spans.ofSeconds(spanS));
    Duration next = draft.began();
    Duration kept = draft.began();
    while (!gone && journal.elapsed().compareTo(until) < 0) {
      hands.watchman().look();
      hands.taker().current(chunk, draft.key(), !task.fromPowerOn());
      if (journal.elapsed().minus(kept).compareTo(KEPT_EVERY) >= 0) {
        keep(chunk);
        kept = journal.elapsed();
      }
      next = next.plus(Spans.ofSeconds(task.everyS()));
      hands.watchman().sleep(gone ? Duration.ZERO : next.minus(journal.elapsed()));
    }
    open.append(chunk);
  }

  private void keep(List<Reading> chunk) {
    hands.taker().temperature(chunk);
    open.append(chunk);
    Optional<Boolean> flows = hands.plausible().flows(draft.conditions(), chunk);
    trouble = hands.plausible().nothing(draft.conditions(), chunk);
    chunk.clear();
    flows.ifPresent(this::heed);
  }

  /** A unit that is just being switched on may give none at first. */
  private void heed(boolean flows) {
    flowed |= flows;
    gone = flowed && hands.tampering().after(draft.conditions(), flows);
    if (gone) {
      double s = Spans.seconds(journal.elapsed().minus(draft.began()));
      trouble =
          trouble.map(
              why ->
                  "ended early, after %s: %s"
                      .formatted(Quantities.print(s, Dimension.TIME, 3), why));
    }
  }
}
