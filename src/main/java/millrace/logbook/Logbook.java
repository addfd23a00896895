// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Supplier;
import millrace.document.file.LabSigningKey;
import millrace.evidence.Result;
import millrace.fault.LogbookException;

/**
 * The SQLite file that holds runs. Commands that measure or add open it for writing, all others
 * read-only; it can be read while another process writes it. One thread at a time; close it.
 */
public final class Logbook implements AutoCloseable {
  private final SqlSession session;
  private final Runnable end;

  Logbook(SqlSession session) {
    this(session, session::close);
  }

  /** One whose session is another's: {@code end} says what becomes of it. */
  Logbook(SqlSession session, Runnable end) {
    this.session = session;
    this.end = end;
  }

  /**
   * Opens a logbook for writing, and migrates one of an older version. An empty file, or one whose
   * creation was interrupted, becomes a new logbook.
   *
   * @param path the file
   * @return the logbook
   * @throws LogbookException if it is missing, not a logbook, of a newer version, not writable,
   *     locked or damaged
   */
  public static Logbook open(Path path) {
    LogbookCreation.refuseMissing(path);
    return prepared(path);
  }

  /**
   * Opens a logbook for writing, or creates it if there is none.
   *
   * @param path the file
   * @return the logbook
   * @throws LogbookException as {@link #open}, and if it cannot be made
   */
  public static Logbook openOrCreate(Path path) {
    if (!Files.exists(path)) {
      LogbookCreation.refuseMissingFolder(path);
      LogbookCreation.of(path);
    }
    return open(path);
  }

  /** The same for a computed run, whose logbook is thrown away: nothing is committed. */
  public static Logbook temporary(Path path) {
    Logbook book = openOrCreate(path);
    book.session.neverCommit();
    return book;
  }

  private static Logbook prepared(Path path) {
    SqlSession session = SqliteConnections.forWriting(path);
    try {
      Migrations.Identity identity = Migrations.identity(session);
      if (!identity.unborn()) {
        Migrations.check(path, identity);
        refusePack(path, identity);
      }
      if (identity.version() < Migrations.newest()) {
        Migrations.forward(session);
        WalCheckpoints.whenPossible(session);
      }
      session.watch(
          session.query(
              "asking which logbook it is",
              () ->
                  session
                      .one("SELECT uuid FROM logbook", slots -> {}, SqlQueryRow::text)
                      .orElse("")),
          SqliteConnections::identity);
      return new Logbook(session);
    } catch (RuntimeException e) {
      session.close();
      throw e;
    }
  }

  /**
   * Opens a logbook read-only: also in a read-only folder, and while a run is being written.
   *
   * @param path the file
   * @return the logbook; what writes refuses
   * @throws LogbookException if it is missing, not a logbook, of another version than can be read,
   *     or damaged
   */
  public static Logbook readOnly(Path path) {
    LogbookCreation.refuseMissing(path);
    if (LogbookCreation.isEmpty(path) && Files.isWritable(path)) {
      open(path).close();
    }
    SqlSession session = SqliteConnections.forReading(path);
    try {
      Migrations.Identity identity = Migrations.identity(session);
      Migrations.check(path, identity);
      if (identity.version() < Migrations.newest()) {
        throw SqliteErrorText.of(
            path,
            "it has version "
                + identity.version()
                + " and was opened for reading; this Millrace reads version "
                + Migrations.newest(),
            "Copy it; what writes brings the copy to the present version: 'millrace analyze RUN"
                + " --logbook COPY'.");
      }
      return new Logbook(session);
    } catch (RuntimeException e) {
      session.close();
      throw e;
    }
  }

  SqlSession session() {
    return session;
  }

  /**
   * Reads much: everything is as it stands at the first question, and each is answered sooner.
   *
   * @param work what only reads, in this thread
   * @param <T> what it finds
   * @return what it found
   */
  public <T> T unchanging(Supplier<T> work) {
    return session.unchanging("reading runs", work::get);
  }

  private static void refusePack(Path path, Migrations.Identity identity) {
    if (identity.pack()) {
      throw SqliteErrorText.of(
          path,
          "this is a pack of runs, which is only read",
          "Take it into a logbook first: 'millrace import'.");
    }
  }

  /**
   * What it is called.
   *
   * @return the file as it was named, or the address of a store without its options
   */
  public String name() {
    return session.engine().name();
  }

  /**
   * The store that it is a view of.
   *
   * @return empty for a file
   */
  public Optional<StoreAddress> store() {
    return session.engine().store();
  }

  /**
   * The file.
   *
   * @return as it was named
   * @throws LogbookException for a store, which has none
   */
  public Path path() {
    return session.path();
  }

  /**
   * Tells whether the file that was opened for writing is still where it was.
   *
   * @return false if it was moved or overwritten, also if another file has its name
   */
  public boolean isInPlace() {
    return session.isInPlace();
  }

  /**
   * Begins a run.
   *
   * @param start what is known of it
   * @return its writer; close it
   */
  public RunWriter begin(RunStart start) {
    UUID uuid = UuidV7.at(start.startedAt());
    return session.transaction(
        "beginning a run",
        () -> {
          long run = RunSqlRows.insert(session, uuid, start);
          return held(run, uuid);
        });
  }

  /**
   * Resumes an incomplete run.
   *
   * @param run its local number
   * @return its writer; close it
   * @throws LogbookException if another process is writing it, who is named
   */
  public RunWriter resume(long run) {
    return session.transaction(
        "resuming run " + run,
        () -> {
          RunSummary summary = RunSqlRows.find(session, String.valueOf(run));
          RunWriter writer = held(run, summary.uuid());
          session.change(
              "UPDATE run SET state = 'unfinished', ended_at = NULL WHERE id = ?",
              slots -> slots.whole(run));
          RunDigest.forget(session, run);
          return writer;
        });
  }

  /**
   * Tells whether a process is writing a run now.
   *
   * @param run its local number
   * @return true also if that cannot be found out, as in a read-only folder
   */
  public boolean isBeingWritten(long run) {
    try {
      Optional<RunLock> free = RunLock.take(session.path().toAbsolutePath(), run);
      free.ifPresent(RunLock::close);
      return free.isEmpty();
    } catch (LogbookException e) {
      return true;
    }
  }

  private RunWriter held(long run, UUID uuid) throws SQLException {
    RunLock lock =
        RunLock.take(session.path().toAbsolutePath(), run).orElseThrow(() -> isHeld(run));
    boolean done = false;
    try {
      session.change(
          "UPDATE run SET held_by = ? WHERE id = ?",
          slots -> slots.text(RunHolder.inWords()).whole(run));
      RunWriter writer = new RunWriter(session, lock, run, uuid);
      done = true;
      return writer;
    } finally {
      if (!done) {
        lock.close();
      }
    }
  }

  private LogbookException isHeld(long run) {
    String holder =
        session.query(
            "asking who writes run " + run,
            () -> RunSqlRows.byId(session, run).flatMap(RunSummary::heldBy).orElse("unknown"));
    return session
        .engine()
        .refusal(
            "run " + run + " is being written already, by " + holder,
            "Let it end, or stop that process first.");
  }

  /**
   * Joins many writes into few transactions.
   *
   * @param rows how many rows at most wait for their commit, 1 or more
   * @return the bulk; close it
   */
  public GroupedTransactions bulk(int rows) {
    return new GroupedTransactions(session, rows);
  }

  /**
   * Lists runs.
   *
   * @param filter which ones
   * @return in the order of their numbers
   */
  public List<RunSummary> runs(RunFilter filter) {
    return session.query("listing runs", () -> RunSqlRows.list(session, filter));
  }

  /**
   * The latest judgements of runs.
   *
   * @param filter which ones
   * @return of those that were judged, in the order of their numbers
   */
  public List<LatestRunVerdict> verdicts(RunFilter filter) {
    return session.query("listing outcomes", () -> RunSqlRows.verdicts(session, filter));
  }

  /**
   * Finds a run as a person names it.
   *
   * @param name local number, or UUID, or the beginning of one (4 digits or more)
   * @return the run
   * @throws millrace.fault.BadInputException if there is none, or several begin so
   */
  public RunSummary find(String name) {
    return session.query("looking for run '" + name + "'", () -> RunSqlRows.find(session, name));
  }

  /**
   * Reads a run.
   *
   * @param run its local number, of a run that exists
   * @return its reader
   */
  public RunReader reader(long run) {
    return new RunReader(session, run);
  }

  /**
   * Saves the results of a judging beside those of earlier ones; does nothing if they equal the
   * last ones.
   *
   * @param run the run's local number
   * @param evaluation what the results rest on
   * @param results the results
   */
  public void save(long run, RunEvaluation evaluation, List<Result> results) {
    session.transact(
        "saving the results of run " + run,
        () -> {
          session.alone(RunSealChain.uuid(session, run).toString());
          if (ResultSqlRows.isLast(session, run, evaluation, results)) {
            return;
          }
          long id = ResultSqlRows.evaluation(session, run, evaluation);
          for (Result each : results) {
            ResultSqlRows.insert(session, id, each);
          }
          RunSealChain.add(session, run, RunSealChain.Kind.JUDGING, id);
        });
  }

  /**
   * Adds a remark to a run or a point.
   *
   * @param run the run's local number
   * @param remark what is said
   */
  public void add(long run, Remark remark) {
    session.transact(
        "adding a remark to run " + run,
        () ->
            RunSealChain.add(
                session, run, RunSealChain.Kind.NOTE, RemarkSqlRows.insert(session, run, remark)));
  }

  /**
   * Signs the present seal of a run; later additions are not covered.
   *
   * @param run the run's local number
   * @param key the laboratory's
   * @param at wall clock
   */
  public void sign(long run, LabSigningKey.Signing key, Instant at) {
    session.transact("signing run " + run, () -> RunSignatures.add(session, run, key, at));
  }

  /**
   * How much of a run a key has signed.
   *
   * @param run the run's local number
   * @param key the public half
   * @return how many of its seals lie before and with the last one that was signed; empty where the
   *     key signed none of them
   */
  public Optional<Long> signed(long run, LabSigningKey.Checking key) {
    return session.query(
        "checking signatures of run " + run, () -> RunSignatures.covers(session, run, key));
  }

  /**
   * Keeps a file for a run after it ended, such as the changed datasheet that it is judged by
   * again.
   *
   * @param role what it is
   * @param name its name as the user gave it
   * @param content what it holds
   * @return the file as kept; not among the files that the run was made from
   */
  public RunInputFile keep(FileRole role, String name, byte[] content) {
    return session.transaction(
        "keeping '" + name + "'", () -> FileSqlRows.insert(session, role, name, content));
  }

  /**
   * Tells whether a file is a pack, that is a file of runs for another logbook.
   *
   * @param path a file; may be missing
   * @return true if it is one; its integrity is checked when it is imported
   */
  public static boolean isPack(Path path) {
    return RunPacking.isPack(path);
  }

  /**
   * Packs runs into one file for another logbook: with their files, judgings and remarks.
   *
   * @param runs runs that ended
   * @param target where there is no file yet
   * @param key what signs each run in the pack; empty for none
   * @param at wall clock of the signature
   * @return the seal of the pack, 64 hexadecimal digits
   * @throws millrace.fault.BadInputException if a run has not ended
   * @throws LogbookException if the pack cannot be written
   */
  public String pack(
      List<RunSummary> runs, Path target, Optional<LabSigningKey.Signing> key, Instant at) {
    return RunPacking.pack(
        session.path(), runs, target, key.map(signing -> new RunPacking.Signer(signing, at)));
  }

  /**
   * Imports the runs of a pack that are not here yet; of runs that are already here, only new
   * judgings and remarks.
   *
   * @param pack the file
   * @return what was taken
   * @throws LogbookException if the pack was changed after it was packed, or a run is here with
   *     other data; then nothing is taken
   */
  public UnpackedRuns take(Path pack) {
    return RunPacking.take(session, pack);
  }

  /**
   * Refuses a pack whose present content is not signed by a laboratory.
   *
   * @param pack a file that {@link #isPack} knows
   * @param key the public half of its key
   * @throws LogbookException if a run in it is not signed by that key, or something came after
   */
  public static void checkSigned(Path pack, LabSigningKey.Checking key) {
    RunPacking.checkSigned(pack, key);
  }

  /**
   * Checks that a pack is unchanged, before a logbook is created for it.
   *
   * @param pack a file that {@link #isPack} knows
   * @throws LogbookException if it was changed, or this Millrace cannot read it
   */
  public static void checkPack(Path pack) {
    RunPacking.check(pack);
  }

  /**
   * Checks the file and a run's digest.
   *
   * @param run the run's local number
   * @return what was found
   */
  public RunVerification verify(long run) {
    return LogbookVerifier.of(session, reader(run).summary());
  }

  /**
   * Copies the logbook as it stands into a new file, also while a run is written. Nothing is left
   * of a copy that failed.
   *
   * @param target where there is no file yet
   */
  public void backup(Path target) {
    if (Files.exists(target)) {
      throw SqliteErrorText.of(
          target, "there is a file of this name already", "Choose another name.");
    }
    LogbookCreation.beside(
        target,
        "the copy cannot be put there",
        part ->
            session.query(
                "copying it to '" + target + "'",
                () -> session.change("VACUUM INTO ?", slots -> slots.text(part.toString()))));
  }

  @Override
  public void close() {
    end.run();
  }
}
