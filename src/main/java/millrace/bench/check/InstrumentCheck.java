package millrace.bench.check;

import java.time.Duration;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import millrace.bench.Bench;
import millrace.bench.BenchFile;
import millrace.bench.role.RoleName;
import millrace.fault.InstrumentException;
import millrace.quantity.Spans;
import millrace.time.SystemClock;

/**
 * How one instrument is.
 *
 * @param entry what the bench file says of it
 * @param identity who it says it is; empty if it did not answer
 * @param roundTrip from a question to its reply, real time, the median of several; empty if it
 *     cannot be asked
 * @param errors what it complained of; taken from its queue by this
 * @param overdue true if its certificate has run out
 * @param trouble why it could not be spoken to; empty if it could
 */
public record InstrumentCheck(
    BenchFile.Entry entry,
    Optional<String> identity,
    Optional<Duration> roundTrip,
    List<String> errors,
    boolean overdue,
    Optional<String> trouble) {
  private static final int TRIPS = 5;

  /** Copies the list. */
  public InstrumentCheck {
    errors = List.copyOf(errors);
  }

  /**
   * Speaks to one instrument.
   *
   * @param bench the open bench
   * @param entry the instrument
   * @param day the day that its certificate must reach
   * @return how it is; never throws for an instrument that is in trouble
   */
  public static InstrumentCheck of(Bench bench, BenchFile.Entry entry, LocalDate day) {
    boolean overdue = entry.certificate().filter(c -> c.overdueOn(day)).isPresent();
    Optional<String> identity = Optional.empty();
    try {
      identity = Optional.of(bench.identify(entry.name()));
      Optional<Duration> trip = roundTrip(bench, entry.name());
      List<String> errors = bench.instruments().get(entry.name()).errors();
      return new InstrumentCheck(entry, identity, trip, errors, overdue, Optional.empty());
    } catch (InstrumentException e) {
      return new InstrumentCheck(
          entry,
          identity,
          Optional.empty(),
          List.of(),
          overdue,
          Optional.of(String.valueOf(e.getMessage())));
    }
  }

  /** An instrument that was never connected to was not asked either, as it cannot say who it is. */
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
  public Finding finding() {
    String what = "%s (%s)".formatted(entry.name(), roles());
    if (trouble.isPresent()) {
      return Finding.noAnswer(what, trouble.get());
    }
    boolean good = errors.isEmpty() && !overdue;
    return new Finding(what, good ? Finding.State.GOOD : Finding.State.CAUTION, said());
  }

  private String roles() {
    return entry.roles().keySet().stream().map(RoleName::text).collect(Collectors.joining(", "));
  }

  private String said() {
    return "%s; %s; %s; %s; %s"
        .formatted(
            identity.orElse("no identity"),
            entry.address(),
            roundTrip.map(InstrumentCheck::print).orElse("round trip not measured"),
            errors.isEmpty() ? "no errors" : "errors: " + String.join(", ", errors),
            due());
  }

  private static String print(Duration trip) {
    return "round trip " + Spans.print(trip, 2);
  }

  private String due() {
    Optional<LocalDate> due = entry.certificate().flatMap(BenchFile.Certificate::due);
    if (due.isEmpty()) {
      return "no calibration date";
    }
    return overdue ? "calibration OVERDUE since " + due.get() : "calibration due " + due.get();
  }
}
