// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import java.time.Duration;
import java.time.Instant;
import java.time.format.DateTimeFormatter;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import millrace.evidence.Conformity;
import millrace.evidence.Incident;
import millrace.evidence.Judgement;
import millrace.evidence.Point;
import millrace.evidence.Reading;
import millrace.evidence.RunOrigin;
import millrace.logbook.InstrumentEntry;
import millrace.logbook.JudgedRunReader;
import millrace.logbook.Logbook;
import millrace.logbook.NightRuns;
import millrace.logbook.PlanChange;
import millrace.logbook.RunReader;
import millrace.logbook.RunState;
import millrace.logbook.RunSummary;
import millrace.logbook.StepEntry;
import millrace.night.CrashedRunEnding;
import millrace.night.StoredRunPlan;
import millrace.run.control.BenchTelemetry;
import millrace.run.control.BenchTelemetryFile;
import millrace.run.journal.ResumeState;
import millrace.run.soak.SoakProgress;

/**
 * A run as its logbook shows it at one instant: the part that is quick to read. Immutable.
 *
 * @param run the run
 * @param plan its plan; empty for an imported run
 * @param done keys of the points that no longer need to be taken
 * @param points the points taken
 * @param steps its steps, past and present
 * @param happened incidents and instruments
 * @param newest the last readings of its last points
 * @param soak the progress of its soak; empty without one
 * @param writer the process that writes it, or how it ended
 * @param clock the time
 * @param together the runs of all units in the same chamber, this one included; else this one alone
 */
public record RunSnapshot(
    RunSummary run,
    Optional<StoredRunPlan> plan,
    Set<String> done,
    List<Point> points,
    List<StepEntry> steps,
    Happened happened,
    List<Reading> newest,
    Optional<SoakProgress> soak,
    Writer writer,
    RunClock clock,
    List<Neighbour> together) {
  private static final int LAST_POINTS = 6;

  /** A record over time has a temperature among so many readings, and may have a million. */
  private static final int LAST_READINGS = 400;

  /**
   * The events beside the readings.
   *
   * @param incidents in order of time
   * @param instruments the instruments of the run
   * @param changes the changes of its plan, in order of time
   */
  public record Happened(
      List<Incident> incidents, List<InstrumentEntry> instruments, List<PlanChange> changes) {}

  /**
   * The process that writes the run.
   *
   * @param goesOn whether a process writes it now
   * @param ending the end of a run that did not end normally; empty otherwise
   * @param judged the last judgement of each limit; empty while the run goes on
   * @param bench what it tells of its bench; nothing once it ended
   */
  public record Writer(
      boolean goesOn, Optional<String> ending, List<Conformity> judged, BenchTelemetry bench) {
    /** Copies the list. */
    public Writer {
      judged = List.copyOf(judged);
    }

    private static Writer of(Logbook book, RunReader reader, List<Neighbour> together) {
      RunSummary run = reader.summary();
      boolean goesOn = run.state() == RunState.UNFINISHED && book.isBeingWritten(run.id());
      long first = together.stream().mapToLong(n -> n.run().id()).min().orElse(run.id());
      return new Writer(
          goesOn,
          CrashedRunEnding.of(book, run, reader),
          goesOn ? List.of() : RunSnapshot.judged(book, run),
          goesOn ? BenchTelemetryFile.read(book.path(), first) : BenchTelemetry.NONE);
    }
  }

  /**
   * A unit in the same chamber.
   *
   * @param run its run
   * @param points the number of its points
   * @param goesOn whether a process writes it
   */
  public record Neighbour(RunSummary run, long points, boolean goesOn) {}

  /**
   * The time of a run.
   *
   * @param now wall clock; for a simulated run the time it has reached
   * @param elapsed its own time until now
   */
  public record RunClock(Instant now, Duration elapsed) {}

  /**
   * Reads a run.
   *
   * @param book its logbook
   * @param id its number
   * @param plan its plan, if it was read before
   * @param systemNow wall clock
   * @return the snapshot
   */
  public static RunSnapshot of(
      Logbook book, long id, Optional<StoredRunPlan> plan, Instant systemNow) {
    RunReader reader = book.reader(id);
    RunSummary run = reader.summary();
    List<Point> points = reader.points();
    List<Neighbour> together = together(book, run);
    Writer writer = Writer.of(book, reader, together);
    ResumeState state = ResumeState.of(reader);
    List<Reading> newest = newest(reader, points);
    return new RunSnapshot(
        run,
        plan,
        state.done(),
        points,
        reader.steps(),
        new Happened(reader.incidents(), reader.instruments(), reader.planChanges()),
        newest,
        plan.filter(p -> writer.goesOn())
            .flatMap(p -> SoakProgress.of(reader, p.plan(), p.datasheet())),
        writer,
        clock(run, reader, newest, systemNow),
        together);
  }

  private static List<Conformity> judged(Logbook book, RunSummary run) {
    return new JudgedRunReader(book)
        .of(run).results().stream()
            .flatMap(r -> r.judgement().stream())
            .map(Judgement::conformity)
            .toList();
  }

  private static List<Reading> newest(RunReader reader, List<Point> points) {
    return points.subList(Math.max(0, points.size() - LAST_POINTS), points.size()).stream()
        .flatMap(p -> reader.lastReadings(p.id(), LAST_READINGS).stream())
        .sorted(Comparator.comparing(Reading::elapsed))
        .toList();
  }

  /** A simulated night has a clock of its own; it shows the time of the last entry. */
  private static RunClock clock(
      RunSummary run, RunReader reader, List<Reading> newest, Instant systemNow) {
    Duration last =
        Stream.concat(Stream.of(reader.lastElapsed()), newest.stream().map(Reading::elapsed))
            .max(Comparator.naturalOrder())
            .orElseThrow();
    Optional<Instant> stamp =
        Stream.concat(
                newest.stream().map(Reading::takenAt),
                reader.incidents().stream().map(Incident::at))
            .max(Comparator.naturalOrder());
    Instant reached = run.endedAt().or(() -> stamp).orElse(run.start().startedAt());
    boolean own = run.start().origin() != RunOrigin.BENCH || run.state() != RunState.UNFINISHED;
    if (own || systemNow.isBefore(reached)) {
      return new RunClock(reached, last);
    }
    return new RunClock(systemNow, last.plus(Duration.between(reached, systemNow)));
  }

  private static List<Neighbour> together(Logbook book, RunSummary run) {
    return NightRuns.of(book, run).stream()
        .map(
            r ->
                new Neighbour(
                    r,
                    book.reader(r.id()).pointCount(),
                    r.state() == RunState.UNFINISHED && book.isBeingWritten(r.id())))
        .toList();
  }

  /** Whether the page must be marked as simulated. */
  public boolean simulated() {
    return run.start().origin() == RunOrigin.SIMULATED;
  }

  /** The mark on every drawing of a simulated run. */
  Optional<String> stamp() {
    return simulated() ? Optional.of("SIMULATED") : Optional.empty();
  }

  /** The wall-clock time of an elapsed time, from the last incident before it. */
  Instant at(Duration elapsed) {
    Incident before = null;
    for (Incident i : happened.incidents()) {
      if (i.elapsed().compareTo(elapsed) <= 0) {
        before = i;
      }
    }
    return before == null
        ? run.start().startedAt().plus(elapsed)
        : before.at().plus(elapsed.minus(before.elapsed()));
  }

  /** The local time of day at the bench; with the date if it is not today. */
  String local(Instant when) {
    boolean today =
        when.atOffset(run.start().offset())
            .toLocalDate()
            .equals(clock.now().atOffset(run.start().offset()).toLocalDate());
    String pattern = today ? "HH:mm" : "d MMM HH:mm";
    return DateTimeFormatter.ofPattern(pattern, Locale.ROOT)
        .format(when.atOffset(run.start().offset()));
  }

  /** The same with its seconds. */
  String toTheSecond(Instant when) {
    return DateTimeFormatter.ofPattern("HH:mm:ss", Locale.ROOT)
        .format(when.atOffset(run.start().offset()));
  }

  /** The time until the plan ends; empty where it is not known. */
  Optional<Duration> left() {
    return plan.flatMap(
        p -> p.toGo(done).stream().findFirst().map(point -> p.schedule().leftFrom(point)));
  }
}
