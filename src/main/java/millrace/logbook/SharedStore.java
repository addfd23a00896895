// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.sql.SQLException;
import java.time.Instant;
import java.time.YearMonth;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import millrace.evidence.RunOrigin;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.LogbookException;

/**
 * A store that runs of many logbooks are published to. Each run is one transaction, which ends only
 * after the digest was computed again from what the store holds: a run is there whole or not at
 * all, whatever is killed. What is still to be sent is found by comparing logbook and store;
 * nothing else is kept. One thread at a time; close it.
 */
public final class SharedStore implements AutoCloseable {
  private static final String ROLES = "store-roles.sql";

  /** Runs that are asked for in one question. */
  private static final int AT_ONCE = 200;

  private final SqlSession store;
  private final Set<YearMonth> open = new HashSet<>();

  /** What became of a run. */
  public enum Outcome {
    /** It is there now. */
    SENT,
    /** It was there; judgings, notes or signatures were added to it. */
    ADDED,
    /** It was there with all that is known of it. */
    THERE
  }

  private SharedStore(SqlSession store) {
    this.store = store;
  }

  /**
   * Connects to a store, to publish runs.
   *
   * @param address where it is
   * @return the store
   * @throws LogbookException if it cannot be reached, lets nobody in, is no store or one of another
   *     version
   */
  public static SharedStore at(StoreAddress address) {
    return new SharedStore(PostgresConnections.forWriting(address));
  }

  /**
   * Connects to a store to read it as a logbook.
   *
   * @param address where it is
   * @return what it holds, as it stands at the first question; what needs a file is refused
   * @throws LogbookException as {@link #at}
   */
  public static Logbook logbook(StoreAddress address) {
    return new Logbook(PostgresConnections.forReading(address));
  }

  /**
   * Connects to a store to read it as a logbook and to add judgings.
   *
   * @param address where it is
   * @return as {@link #logbook}
   * @throws LogbookException as {@link #at}
   */
  public static Logbook toJudge(StoreAddress address) {
    return new Logbook(PostgresConnections.forWriting(address));
  }

  /**
   * Tells whether a user may add judgings to a store.
   *
   * @param address where it is, with the user
   * @return false for who may only read
   * @throws LogbookException as {@link #at}
   */
  public static boolean takesJudgings(StoreAddress address) {
    try (SqlSession session = PostgresConnections.forReading(address)) {
      return session.query(
          "asking what this user may do",
          () ->
              session
                  .one(
                      "SELECT count(*) FROM (SELECT 1 WHERE has_table_privilege('evaluation',"
                          + " 'INSERT') AND NOT pg_is_in_recovery()) AS may",
                      slots -> {},
                      SqlQueryRow::whole)
                  .equals(Optional.of(1L)));
    }
  }

  /**
   * What a store has of a batch: the judged values of its real units, of each unit the first run.
   *
   * @param address where it is
   * @param batch name of the batch
   * @return in the order of time
   * @throws LogbookException as {@link #at}
   */
  public static List<BatchJudgedValue> batch(StoreAddress address, String batch) {
    try (SqlSession session = PostgresConnections.forReading(address)) {
      return session.query(
          "reading batch " + batch, () -> ResultSqlRows.batch(session, batch, RunOrigin.BENCH));
    }
  }

  /**
   * Makes the tables of a store, or brings them to the present version.
   *
   * @param address of the database
   * @throws LogbookException if that user may not, or it is of a newer version
   */
  public static void prepare(StoreAddress address) {
    StoreMigration.forward(address);
  }

  /**
   * The roles of a store as a script for its server.
   *
   * @return SQL
   */
  public static String roles() {
    try (InputStream in = SharedStore.class.getResourceAsStream(ROLES)) {
      if (in == null) {
        throw new IllegalStateException("the program lacks its own file " + ROLES);
      }
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /**
   * Tells whether the same may succeed later, because a server is away or busy.
   *
   * @param error what came of it
   * @return true if waiting may help
   */
  public static boolean passes(LogbookException error) {
    return PostgresErrorText.passes(error);
  }

  /**
   * Tells whether a store refused one run for what that run is; others may be taken.
   *
   * @param error what came of it
   * @return false if the server reported a fault
   */
  public static boolean refusesOne(LogbookException error) {
    return error.getCause() == null;
  }

  /**
   * Why a run is not published.
   *
   * @param run a run of a logbook
   * @return in words; empty if it may be
   */
  public static Optional<String> unfit(RunSummary run) {
    if (run.start().origin() == RunOrigin.SIMULATED) {
      return Optional.of("it is simulated, which is never published");
    }
    return run.digest().isEmpty()
        ? Optional.of("it has not ended, so it has no digest")
        : Optional.empty();
  }

  /**
   * What a logbook has to publish: complete runs of real units, each with the seal of what is known
   * of it now.
   *
   * @param book the logbook
   * @return seals by UUID, in the order of the runs
   */
  public static Map<UUID, String> sealed(Logbook book) {
    Map<UUID, String> sealed = new LinkedHashMap<>();
    SqlSession session = book.session();
    session.query(
        "asking which runs are complete",
        () ->
            session.list(
                "SELECT r.uuid, l.seal FROM run r JOIN link l ON l.run_id = r.id"
                    + " WHERE r.state = 'complete' AND r.origin <> 'simulated'"
                    + " AND r.digest IS NOT NULL AND l.number = (SELECT max(m.number) FROM link m"
                    + " WHERE m.run_id = r.id) ORDER BY r.id",
                slots -> {},
                row -> sealed.put(UUID.fromString(row.text()), row.text())));
    return sealed;
  }

  /**
   * The runs of a logbook that the store lacks, or lacks something of.
   *
   * @param book the logbook
   * @param of the UUIDs of those that are looked at, which the logbook has
   * @return in the order of the UUIDs; one whose digest is another there is among them
   */
  public List<RunSummary> pending(Logbook book, Collection<UUID> of) {
    List<RunSummary> pending = new ArrayList<>();
    List<UUID> all = List.copyOf(of);
    for (int i = 0; i < all.size(); i += AT_ONCE) {
      List<UUID> some = all.subList(i, Math.min(all.size(), i + AT_ONCE));
      Map<String, Set<String>> there = contents(store, some);
      contents(book.session(), some)
          .forEach(
              (uuid, here) -> {
                if (!there.getOrDefault(uuid, Set.of()).containsAll(here)) {
                  pending.add(book.find(uuid));
                }
              });
    }
    return pending;
  }

  /** What the seals of runs are of; of their ends only the last, which is the digest. */
  private static Map<String, Set<String>> contents(SqlSession session, List<UUID> of) {
    String places = ", ?".repeat(AT_ONCE).substring(2);
    SqlSession.Filling filling =
        slots -> {
          for (int i = 0; i < AT_ONCE; i++) {
            slots.text(of.get(Math.min(i, of.size() - 1)).toString());
          }
        };
    Map<String, Set<String>> contents = new LinkedHashMap<>();
    for (String sql :
        List.of(
            "SELECT uuid, digest FROM run WHERE digest IS NOT NULL AND uuid IN (%s) ORDER BY id",
            "SELECT r.uuid, l.content FROM run r JOIN link l ON l.run_id = r.id"
                + " WHERE l.kind <> 'end' AND r.uuid IN (%s)")) {
      session.query(
          "asking which runs it has",
          () ->
              session.list(
                  sql.formatted(places),
                  filling,
                  row ->
                      contents.computeIfAbsent(row.text(), u -> new HashSet<>()).add(row.text())));
    }
    return contents;
  }

  /**
   * Publishes a run, or what was added to it since.
   *
   * @param book its logbook
   * @param named a run of it
   * @return what became of it
   * @throws BadInputException if it is simulated or has not ended
   * @throws LogbookException if the store has it with another digest, or what arrived does not fit;
   *     then the store is as it was
   */
  public Outcome publish(Logbook book, RunSummary named) {
    RunSummary run = book.reader(named.id()).summary();
    unfit(run).ifPresent(why -> refuse(run, why));
    room(run.start().startedAt());
    RunPublication publication = new RunPublication(book.session(), store, run);
    return store.transaction(
        "publishing run " + run.id(),
        () -> {
          store.alone(run.uuid().toString());
          Optional<Long> there = publication.there();
          if (there.isPresent()) {
            refuseOther(run, there.get());
          }
          long here = there.isPresent() ? there.get() : publication.data();
          boolean more = publication.additions(here, there.isEmpty());
          if (there.isEmpty() || more) {
            refuseUnsound(run, publication.fault(here));
          }
          return there.isEmpty() ? Outcome.SENT : more ? Outcome.ADDED : Outcome.THERE;
        });
  }

  private static void refuse(RunSummary run, String why) {
    boolean simulated = run.start().origin() == RunOrigin.SIMULATED;
    throw new BadInputException(
        new InputFault(
            FilePlace.of("run " + run.id()),
            why,
            "a run of a real unit that ended",
            simulated
                ? "Leave it out: a store holds what was measured."
                : "Let it end, or say 'millrace run --resume %s'.".formatted(run.id())));
  }

  /** In a transaction of its own, so that nobody waits for the rows of a run. */
  private void room(Instant start) {
    YearMonth month = YearMonth.from(start.atOffset(ZoneOffset.UTC));
    if (open.add(month)) {
      boolean done = false;
      try {
        store.transact(
            "making room for " + month,
            () ->
                store.one(
                    "SELECT count(*) FROM (SELECT open_month(CAST(? AS DATE))) AS made",
                    slots -> slots.text(month.atDay(1).toString()),
                    SqlQueryRow::whole));
        done = true;
      } finally {
        if (!done) {
          open.remove(month);
        }
      }
    }
  }

  private void refuseOther(RunSummary run, long there) throws SQLException {
    Optional<String> stored = RunSqlRows.byId(store, there).flatMap(RunSummary::digest);
    if (!stored.equals(run.digest())) {
      throw store
          .engine()
          .refusal(
              "it has run %s (UUID %s) already, with other data: digest %s, here %s"
                  .formatted(
                      run.id(), run.uuid(), stored.orElse("none"), run.digest().orElse("none")),
              "Nothing was published; what is there is never overwritten. Either the run went on"
                  + " after it was published, or one of the two was changed: 'millrace show %s"
                      .formatted(run.id())
                  + " --verify', here and with --from.");
    }
  }

  private void refuseUnsound(RunSummary run, Optional<String> fault) {
    if (fault.isPresent()) {
      throw store
          .engine()
          .refusal(
              "run %s was not taken: %s".formatted(run.id(), fault.get()),
              "Nothing of it was published. Say 'millrace show %s --verify'.".formatted(run.id()));
    }
  }

  @Override
  public void close() {
    store.close();
  }
}
