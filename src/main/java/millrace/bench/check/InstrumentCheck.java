// SPDX-License-Identifier: Apache-2.0
package millrace.bench.check;

import java.time.Duration;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import millrace.bench.Bench;
import millrace.bench.BenchFile;
import millrace.bench.role.BenchOperator;
import millrace.bench.role.RoleName;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble;
import millrace.quantity.TimeSpanSeconds;
import millrace.time.SystemClock;

/**
 * The condition of one instrument.
 *
 * @param entry what the bench file says of it
 * @param state how it is, errors and certificate aside
 * @param identity its identity; empty if it did not answer
 * @param roundTrip from a question to its reply, real time, the median of several; empty if it
 *     cannot be asked
 * @param errors the errors in its queue; this reads and removes them
 * @param overdue true if its certificate has run out
 * @param trouble what is wrong with it, or not known; empty if nothing is
 */
public record InstrumentCheck(
    BenchFile.Entry entry,
    BenchCheckFinding.State state,
    Optional<String> identity,
    Optional<Duration> roundTrip,
    List<String> errors,
    boolean overdue,
    Optional<String> trouble) {
  private static final int TRIPS = 5;
  private static final String BY_HAND = "(by hand)";
  private static final String QUESTION =
      "Is '%s' (%s) in its place, wired and switched on? Press Enter (or say what is wrong).";
  private static final String UNASKED =
      "set by hand, and nobody was asked: see for yourself that it is in its place and switched"
          + " on.";
  private static final Set<String> YES = Set.of("", "yes", "y", "ok", "done");

  /** Copies the list. */
  public InstrumentCheck {
    errors = List.copyOf(errors);
  }

  /**
   * Speaks to one instrument; after one that a person sets, the person is asked.
   *
   * @param bench the open bench
   * @param entry the instrument
   * @param day the day that its certificate must reach
   * @param person who is asked; empty if nobody is there
   * @return how it is; never throws for an instrument that is in trouble
   */
  public static InstrumentCheck of(
      Bench bench, BenchFile.Entry entry, LocalDate day, Optional<BenchOperator> person) {
    boolean overdue = entry.certificate().filter(c -> c.overdueOn(day)).isPresent();
    Optional<String> identity = Optional.empty();
    try {
      if (bench.instruments().get(entry.name()).isByHand()) {
        return byHand(entry, overdue, person);
      }
      identity = Optional.of(bench.identify(entry.name()));
      Optional<Duration> trip = roundTrip(bench, entry.name());
      List<String> errors = bench.instruments().get(entry.name()).errors();
      return new InstrumentCheck(
          entry, BenchCheckFinding.State.GOOD, identity, trip, errors, overdue, Optional.empty());
    } catch (InstrumentException e) {
      boolean another =
          e.trouble().filter(t -> t.kind() == InstrumentTrouble.Kind.WRONG_IDENTITY).isPresent();
      return new InstrumentCheck(
          entry,
          another ? BenchCheckFinding.State.ANOTHER : BenchCheckFinding.State.NO_ANSWER,
          identity,
          Optional.empty(),
          List.of(),
          overdue,
          Optional.of(String.valueOf(e.getMessage())));
    }
  }

  /** Unknown, since nobody was asked. */
  private static InstrumentCheck byHand(
      BenchFile.Entry entry, boolean overdue, Optional<BenchOperator> person) {
    BenchCheckFinding.State state = BenchCheckFinding.State.CAUTION;
    Optional<String> wrong = Optional.of(UNASKED);
    if (person.isPresent()) {
      String question = QUESTION.formatted(entry.name(), roles(entry));
      String answer = person.get().ask(question).text().strip();
      boolean good = YES.contains(answer.toLowerCase(Locale.ROOT));
      state = good ? BenchCheckFinding.State.GOOD : BenchCheckFinding.State.BAD;
      wrong = good ? Optional.empty() : Optional.of("a person says: " + answer);
    }
    return new InstrumentCheck(
        entry, state, Optional.of(BY_HAND), Optional.empty(), List.of(), overdue, wrong);
  }

  /**
   * Empty for an instrument that was never connected to: it has no identity query that could be
   * timed.
   */
  private static Optional<Duration> roundTrip(Bench bench, String name) {
    if (bench.instruments().get(name).epoch() == 0) {
      return Optional.empty();
    }
    SystemClock clock = new SystemClock();
    List<Duration> trips = new ArrayList<>();
    for (int i = 0; i < TRIPS; i++) {
      Duration began = clock.elapsed();
      bench.identify(name);
      trips.add(clock.elapsed().minus(began));
    }
    return Optional.of(trips.stream().sorted().toList().get(TRIPS / 2));
  }

  /**
   * The same in one line.
   *
   * @return the finding
   */
  public BenchCheckFinding finding() {
    String what = "%s (%s)".formatted(entry.name(), roles(entry));
    if (trouble.isPresent()) {
      return new BenchCheckFinding(what, state, trouble.get());
    }
    boolean caution = state == BenchCheckFinding.State.GOOD && (!errors.isEmpty() || overdue);
    return new BenchCheckFinding(what, caution ? BenchCheckFinding.State.CAUTION : state, said());
  }

  private static String roles(BenchFile.Entry entry) {
    return entry.roles().keySet().stream().map(RoleName::text).collect(Collectors.joining(", "));
  }

  private String said() {
    if (roundTrip.isEmpty() && identity.filter(BY_HAND::equals).isPresent()) {
      return "set by hand; a person says that it is there; " + due();
    }
    return "%s; %s; %s; %s; %s"
        .formatted(
            identity.orElse("no identity"),
            entry.address(),
            roundTrip.map(InstrumentCheck::print).orElse("round trip not measured"),
            errors.isEmpty() ? "no errors" : "errors: " + String.join(", ", errors),
            due());
  }

  private static String print(Duration trip) {
    return "round trip " + TimeSpanSeconds.print(trip, 2);
  }

  private String due() {
    Optional<LocalDate> due = entry.certificate().flatMap(BenchFile.Certificate::due);
    if (due.isEmpty()) {
      return "no calibration date";
    }
    return overdue ? "calibration OVERDUE since " + due.get() : "calibration due " + due.get();
  }
}
