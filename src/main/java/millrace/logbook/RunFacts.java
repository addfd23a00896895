// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.time.Duration;
import java.time.LocalDate;
import java.util.Collection;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Collectors;
import millrace.evidence.ResultQuantity;
import millrace.quantity.EnumWord;
import millrace.quantity.NumberText;
import millrace.quantity.TimeSpanSeconds;

/**
 * What a run keeps beside its readings, by which it is gone on with, judged, grouped and counted.
 * Stored by name, each value in words; who writes a fact and who reads it meet here alone.
 *
 * @param stored value by name, as the logbook has them; names that nobody reads are kept
 */
public record RunFacts(Map<String, String> stored) {
  /** None. */
  public static final RunFacts NONE = new RunFacts(Map.of());

  private static final String SLOT = "slot";
  private static final String TOGETHER = "together with";
  private static final String WANTED = "compute";
  private static final String TYPE_RUN = "type run";
  private static final String ON_FOR_S = "on for s";
  private static final String DECIDES = "decides at U of ";
  private static final String BY_ITS_BOUND = "its bound";
  private static final String PURPOSE = "production";
  private static final String ATTEMPT = "attempt";
  private static final String CAUSE = "retest cause";
  private static final String KIND = "kind of unit";
  private static final String SHIFT = "shift";
  private static final String SESSION = "session";
  private static final String BENCH = "bench";
  private static final String IMPORTED_FROM = "imported from";
  private static final String IMPORTED_ON = "imported on";
  private static final String DATED = "dated";
  private static final String YES = "yes";

  /** Copies the map. */
  public RunFacts {
    stored = Map.copyOf(stored);
  }

  private RunFacts with(String name, String value) {
    return and(new RunFacts(Map.of(name, value)));
  }

  private Optional<String> get(String name) {
    return Optional.ofNullable(stored.get(name));
  }

  /**
   * These and more.
   *
   * @param more others; they count where both say something
   * @return both
   */
  public RunFacts and(RunFacts more) {
    Map<String, String> all = new HashMap<>(stored);
    all.putAll(more.stored);
    return new RunFacts(all);
  }

  /**
   * The slot that its unit sits in.
   *
   * @return empty where the bench has only one place, or the unit was not noted in one
   */
  public Optional<String> slot() {
    return get(SLOT);
  }

  /**
   * With a slot.
   *
   * @param slot where the unit sits
   * @return these and that
   */
  public RunFacts inSlot(String slot) {
    return with(SLOT, slot);
  }

  /**
   * The first of the runs that were begun together with it.
   *
   * @return its UUID as stored; empty for the first itself, and for a run alone
   */
  public Optional<String> togetherWith() {
    return get(TOGETHER);
  }

  /**
   * Begun together with others.
   *
   * @param first the first of them
   * @return these and that
   */
  public RunFacts togetherWith(UUID first) {
    return with(TOGETHER, first.toString());
  }

  /**
   * Which quantities it is to tell; limits on anything else are not a matter of the run.
   *
   * @return all where nothing was asked for
   */
  public Set<ResultQuantity> wanted() {
    Set<ResultQuantity> wanted = EnumSet.noneOf(ResultQuantity.class);
    for (String key : stored.getOrDefault(WANTED, "").split(" ")) {
      ResultQuantity.byKey(key).ifPresent(wanted::add);
    }
    return wanted.isEmpty() ? EnumSet.allOf(ResultQuantity.class) : wanted;
  }

  /**
   * With what it is to tell.
   *
   * @param wanted the quantities; empty for everything that its readings give
   * @return these and that
   */
  public RunFacts telling(Collection<ResultQuantity> wanted) {
    return wanted.isEmpty()
        ? this
        : with(
            WANTED,
            wanted.stream().map(ResultQuantity::key).sorted().collect(Collectors.joining(" ")));
  }

  /**
   * The type run that it was begun with.
   *
   * @return its UUID; empty if there is none
   */
  public Optional<UUID> typeRun() {
    return get(TYPE_RUN).map(UUID::fromString);
  }

  /**
   * Judged with coefficients of a type run.
   *
   * @param typeRun its UUID
   * @return these and that
   */
  public RunFacts like(UUID typeRun) {
    return with(TYPE_RUN, typeRun.toString());
  }

  /**
   * How long everything had been on when it began.
   *
   * @return empty if it was not noted
   */
  public Optional<Duration> onFor() {
    return get(ON_FOR_S).map(s -> TimeSpanSeconds.ofSeconds(NumberText.parse(s).orElseThrow()));
  }

  /**
   * With how long everything had been on when it began.
   *
   * @param span not below 0
   * @return these and that
   */
  public RunFacts onFor(Duration span) {
    return with(ON_FOR_S, NumberText.print(TimeSpanSeconds.seconds(span)));
  }

  /**
   * By which U each limit counts as decided while it runs, fixed before it began.
   *
   * @return largest U by limit, in its unit, empty for a limit that a bound decides; no limits
   *     where the stopping is not adaptive
   */
  public Map<String, OptionalDouble> decidesAtU() {
    Map<String, OptionalDouble> all = new TreeMap<>();
    stored.forEach(
        (name, value) -> {
          if (name.startsWith(DECIDES)) {
            all.put(name.substring(DECIDES.length()), NumberText.parse(value));
          }
        });
    return all;
  }

  /**
   * With adaptive stopping.
   *
   * @param mostU largest U by limit, in its unit; empty for a limit that a bound decides
   * @return these and that
   */
  public RunFacts decidingAtU(Map<String, OptionalDouble> mostU) {
    Map<String, String> all = new HashMap<>();
    mostU.forEach(
        (limit, u) ->
            all.put(
                DECIDES + limit, u.isPresent() ? NumberText.print(u.getAsDouble()) : BY_ITS_BOUND));
    return and(new RunFacts(all));
  }

  /**
   * What a run of the production loop is for.
   *
   * @return empty for a run of its own
   */
  public Optional<ProductionRunPurpose> purpose() {
    return get(PURPOSE).flatMap(word -> EnumWord.find(ProductionRunPurpose.class, word));
  }

  /**
   * Which test of its unit it is.
   *
   * @return 1 or more
   */
  public int attempt() {
    return Integer.parseInt(stored.getOrDefault(ATTEMPT, "1"));
  }

  /**
   * Why its unit was tested again.
   *
   * @return empty for a first test
   */
  public Optional<String> retestCause() {
    return get(CAUSE);
  }

  /**
   * With what the production loop knows of a test.
   *
   * @param purpose what it is for
   * @param attempt which test of the unit it is, 1 or more
   * @param cause why it is tested again; empty for a first test
   * @return these and that
   */
  public RunFacts tested(ProductionRunPurpose purpose, int attempt, Optional<String> cause) {
    RunFacts facts = with(PURPOSE, purpose.text()).with(ATTEMPT, Integer.toString(attempt));
    return cause.map(c -> facts.with(CAUSE, c)).orElse(facts);
  }

  /**
   * The kind of the unit, as its datasheet calls it.
   *
   * @return empty outside of the production loop
   */
  public Optional<String> kind() {
    return get(KIND);
  }

  /**
   * When the production loop was started, which makes a session.
   *
   * @return as stored; empty outside of the production loop
   */
  public Optional<String> session() {
    return get(SESSION);
  }

  /**
   * The shift of production.
   *
   * @return its name; empty if the run was not made in production
   */
  public Optional<String> shift() {
    return get(SHIFT);
  }

  /**
   * With the session of a production loop.
   *
   * @param shift the shift
   * @param session when the loop was started
   * @param kind what the datasheet calls the units
   * @return these and that
   */
  public RunFacts inSession(String shift, String session, String kind) {
    return with(SHIFT, shift).with(SESSION, session).with(KIND, kind);
  }

  /**
   * The bench that imported readings were taken on.
   *
   * @return its name; empty if the import does not say
   */
  public Optional<String> bench() {
    return get(BENCH);
  }

  /**
   * The day on which readings were imported.
   *
   * @return as stored; empty for readings of this bench
   */
  public Optional<String> importedOn() {
    return get(IMPORTED_ON);
  }

  /**
   * Tells whether an imported file says when its readings were taken.
   *
   * @return true if it does
   */
  public boolean dated() {
    return get(DATED).filter(YES::equals).isPresent();
  }

  /**
   * With where imported readings come from.
   *
   * @param file its name
   * @param on the day
   * @param dated true if the file says when its readings were taken
   * @param bench the bench that they were taken on; empty if not known
   * @return these and that
   */
  public RunFacts imported(String file, LocalDate on, boolean dated, Optional<String> bench) {
    RunFacts facts = with(IMPORTED_FROM, file).with(IMPORTED_ON, on.toString());
    RunFacts stored = dated ? facts.with(DATED, YES) : facts;
    return bench.map(b -> stored.with(BENCH, b)).orElse(stored);
  }
}
