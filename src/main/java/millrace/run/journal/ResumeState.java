// SPDX-License-Identifier: Apache-2.0
package millrace.run.journal;

import java.time.Duration;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.logbook.RunFacts;
import millrace.logbook.RunReader;
import millrace.logbook.StepEntry;

/**
 * What the logbook holds of a run that is resumed.
 *
 * @param done keys of the planned points, and of the points in the logbook, that need not be done
 *     again
 * @param zeros the last zero of each meter range, by the setting that was read back, A
 * @param wanting ranges of the unit whose last zero could not be taken
 * @param skipped keys of points that the logbook has as skipped
 * @param elapsed the run's elapsed time at its last entry
 * @param onFor how long bench and unit had been on when the run began; empty if not noted
 */
public record ResumeState(
    Set<String> done,
    Map<String, Double> zeros,
    Set<String> wanting,
    Set<String> skipped,
    Duration elapsed,
    Optional<Duration> onFor) {
  /** How a step ended that need not be done again. */
  public static final String DONE = "done";

  /** The state of a new run. */
  public static final ResumeState NOTHING = begins(RunFacts.NONE);

  /** Copies the collections. */
  public ResumeState {
    done = Set.copyOf(done);
    zeros = Map.copyOf(zeros);
    wanting = Set.copyOf(wanting);
    skipped = Set.copyOf(skipped);
  }

  /**
   * The state of a new run.
   *
   * @param facts of it
   * @return nothing but what they say
   */
  public static ResumeState begins(RunFacts facts) {
    return new ResumeState(Set.of(), Map.of(), Set.of(), Set.of(), Duration.ZERO, facts.onFor());
  }

  /**
   * What the logbook holds of a run so far.
   *
   * @param reader the run
   * @return its points that are complete or flagged, its zeros and its time
   */
  public static ResumeState of(RunReader reader) {
    Set<String> done = new HashSet<>();
    Map<String, Double> zeros = new HashMap<>();
    Set<String> wanting = new HashSet<>();
    Set<String> skipped = new HashSet<>();
    reader.steps().stream().filter(ResumeState::isDone).forEach(step -> done.add(step.key()));
    for (Point point : reader.points()) {
      if (isTaken(point)) {
        done.add(point.key());
      }
      if (point.state() == PointState.SKIPPED) {
        skipped.add(point.key());
      }
      if (point.kind() == PointKind.ZERO) {
        String range = point.conditions().range().orElse("");
        wanting.add(range);
        zero(reader, point)
            .ifPresent(
                zero -> {
                  zeros.put(point.settings().currentMeter().range(), zero);
                  wanting.remove(range);
                });
      }
    }
    RunFacts facts = reader.summary().start().facts();
    return new ResumeState(done, zeros, wanting, skipped, reader.lastElapsed(), facts.onFor());
  }

  /**
   * The same of several runs of one night.
   *
   * @param readers the runs
   * @return all of it together
   */
  public static ResumeState of(List<RunReader> readers) {
    Set<String> done = new HashSet<>();
    Map<String, Double> zeros = new HashMap<>();
    Set<String> wanting = new HashSet<>();
    Set<String> skipped = new HashSet<>();
    Duration elapsed = Duration.ZERO;
    Optional<Duration> onFor = Optional.empty();
    for (RunReader reader : readers) {
      ResumeState one = of(reader);
      done.addAll(one.done());
      zeros.putAll(one.zeros());
      wanting.addAll(one.wanting());
      onFor = onFor.or(one::onFor);
      skipped.addAll(one.skipped());
      elapsed = one.elapsed().compareTo(elapsed) > 0 ? one.elapsed() : elapsed;
    }
    return new ResumeState(done, zeros, wanting, skipped, elapsed, onFor);
  }

  /**
   * A time series that was cut short by the end of the run is taken again; the record of its step
   * shows that.
   */
  private static boolean isTaken(Point point) {
    return switch (point.kind()) {
      case SOAK -> false;
      case TIME_SERIES -> point.state() == PointState.COMPLETE;
      default -> point.state() == PointState.COMPLETE || point.state() == PointState.FLAGGED;
    };
  }

  /**
   * A knee search or a trial lap has many points, a wait has none: only the record of the step
   * shows that it ended.
   */
  private static boolean isDone(StepEntry step) {
    return step.end().filter(end -> end.outcome().equals(DONE)).isPresent();
  }

  private static OptionalDouble zero(RunReader reader, Point point) {
    return point.state() == PointState.COMPLETE
        ? mean(reader.readings(point.id()))
        : OptionalDouble.empty();
  }

  private static OptionalDouble mean(List<Reading> readings) {
    return readings.stream()
        .filter(r -> r.state() == ReadingState.NUMBER && r.signal() == MeasuredSignal.CURRENT)
        .mapToDouble(r -> r.value().orElseThrow())
        .average();
  }
}
