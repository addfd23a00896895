// SPDX-License-Identifier: Apache-2.0
package millrace.run.reading;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.Reading;
import millrace.evidence.setting.PointSettings;
import millrace.fault.InterlockException;
import millrace.logbook.RunWriter;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.quantity.TimeSpanSeconds;
import millrace.run.journal.Journal;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Task;

/**
 * Records the current over time at one condition, until its span is over or no current flows any
 * more. Readings are in the logbook at most a second later, however the record ends.
 * Single-threaded.
 */
public final class TimeSeriesRecorder {
  private static final Duration KEPT_EVERY = Duration.ofSeconds(1);

  private final RunComponents workers;
  private final Journal journal;
  private final BegunPoint begun;
  private final Task.Watch task;
  private final double spanS;
  private final PointSettings settings;
  private final RunWriter.OpenPoint open;
  private Optional<String> trouble = Optional.empty();
  private boolean flowed;
  private boolean gone;

  /** Begins a record; everything must be set and settled. */
  public TimeSeriesRecorder(
      RunComponents workers, PlannedPoint point, Task.Watch task, double spanS) {
    this.workers = workers;
    this.journal = workers.journal();
    this.task = task;
    this.spanS = spanS;
    this.begun = BegunPoint.of(point, PointKind.TIME_SERIES, journal.elapsed());
    this.settings = workers.station().settings();
    this.open = journal.open(begun.open(settings));
    this.flowed = !task.fromPowerOn();
  }

  /**
   * Records to the end.
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
    workers.vouching().check();
    Point closed = ended(trouble);
    open.close(closed);
    journal.tell(o -> o.committed(closed, List.of()));
    return closed;
  }

  private Point ended(Optional<String> why) {
    return begun.done(why, journal.elapsed(), settings);
  }

  private void readings() {
    List<Reading> chunk = new ArrayList<>();
    Duration until = begun.began().plus(TimeSpanSeconds.ofSeconds(spanS));
    Duration next = begun.began();
    Duration kept = begun.began();
    while (!gone && journal.elapsed().compareTo(until) < 0) {
      workers.waiting().look();
      workers.taker().current(chunk, begun.key(), !task.fromPowerOn());
      if (journal.elapsed().minus(kept).compareTo(KEPT_EVERY) >= 0) {
        keep(chunk);
        kept = journal.elapsed();
      }
      next = next.plus(TimeSpanSeconds.ofSeconds(task.everyS()));
      workers.waiting().sleep(gone ? Duration.ZERO : next.minus(journal.elapsed()));
    }
    open.append(chunk);
  }

  private void keep(List<Reading> chunk) {
    workers.taker().temperature(chunk);
    open.append(chunk);
    Optional<Boolean> flows = workers.plausible().flows(begun.conditions(), chunk);
    trouble = workers.plausible().nothing(begun.conditions(), chunk);
    chunk.clear();
    flows.ifPresent(this::heed);
  }

  /** A unit that was just switched on may give no current at first. */
  private void heed(boolean flows) {
    flowed |= flows;
    gone = flowed && workers.tampering().after(begun.conditions(), flows);
    if (gone) {
      double s = TimeSpanSeconds.seconds(journal.elapsed().minus(begun.began()));
      trouble =
          trouble.map(
              why ->
                  "ended early, after %s: %s"
                      .formatted(QuantityText.print(s, Dimension.TIME, 3), why));
    }
  }
}
