// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicReference;
import millrace.document.file.LabSigningKey;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.LogbookException;

/**
 * Runs in one file for a colleague: a logbook that holds nothing else, is only read, and carries a
 * seal over every row, so that a change is noticed.
 */
final class RunPacking {
  private RunPacking() {}

  static boolean isPack(Path path) {
    return LogbookFileIdentity.applicationId(path).equals(OptionalInt.of(Migrations.PACK_ID));
  }

  /**
   * Who signs the runs of a pack.
   *
   * @param key the laboratory's
   * @param at wall clock
   */
  record Signer(LabSigningKey.Signing key, Instant at) {}

  /** Writes the pack whole, or nothing. */
  static String pack(Path logbook, List<RunSummary> runs, Path target, Optional<Signer> signer) {
    runs.forEach(RunPacking::refuseUnended);
    if (Files.exists(target)) {
      throw SqliteErrorText.of(
          target, "there is a file of this name already", "Choose another name.");
    }
    AtomicReference<String> seal = new AtomicReference<>("");
    LogbookCreation.beside(
        target, "it cannot be written", part -> seal.set(write(logbook, runs, part, signer)));
    return seal.get();
  }

  private static void refuseUnended(RunSummary run) {
    if (run.digest().isEmpty()) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of("run " + run.id()),
              "it has not ended, so it has no digest",
              "runs that ended",
              "Let it end, or say 'millrace run --resume %s'.".formatted(run.id())));
    }
  }

  private static String write(
      Path logbook, List<RunSummary> runs, Path part, Optional<Signer> signer) {
    try (SqlSession pack = SqliteConnections.forWriting(part)) {
      Migrations.forward(pack);
      RunTransfer transfer = new RunTransfer(pack, logbook);
      pack.transact(
          "packing runs",
          () -> {
            for (RunSummary run : runs) {
              transfer.data(run.id());
              long here = transfer.there(run.uuid()).orElseThrow();
              transfer.additions(run.id(), here, true);
              if (signer.isPresent()) {
                RunSignatures.add(pack, here, signer.get().key(), signer.get().at());
              }
            }
          });
      transfer.end();
      return pack.transaction(
          "sealing the pack",
          () -> {
            String seal = RunDigest.ofAll(pack);
            pack.script("CREATE TABLE seal (sha256 TEXT NOT NULL) STRICT");
            pack.change("INSERT INTO seal (sha256) VALUES (?)", slots -> slots.text(seal));
            pack.script("PRAGMA application_id = " + Migrations.PACK_ID);
            return seal;
          });
    }
  }

  /** Refuses a pack of which a run is not signed by a key, or something came after that. */
  static void checkSigned(Path path, LabSigningKey.Checking key) {
    Whole whole = whole(path);
    try (SqlSession pack = SqliteConnections.forReading(path)) {
      for (RunSummary run : whole.runs()) {
        Optional<Long> signed =
            pack.query("checking signatures", () -> RunSignatures.covers(pack, run.id(), key));
        long links =
            pack.query(
                "checking signatures", () -> (long) RunSealChain.links(pack, run.id()).size());
        if (signed.isEmpty() || signed.get() < links - 1) {
          throw SqliteErrorText.of(
              path,
              signed.isEmpty()
                  ? "run %s is not signed by that key".formatted(run.uuid())
                  : "run %s was added to after that key signed it".formatted(run.uuid()),
              "Nothing was taken. Ask the laboratory for its public key, or to sign it again.");
        }
      }
    }
  }

  /** What a pack holds that is as it was packed. */
  private record Whole(String seal, List<RunSummary> runs) {}

  /** Refuses a pack that is not as it was packed. */
  static void check(Path path) {
    whole(path);
  }

  private static Whole whole(Path path) {
    try (SqlSession pack = SqliteConnections.forReading(path)) {
      Migrations.Identity identity = Migrations.identity(pack);
      Migrations.check(path, identity);
      if (identity.version() < Migrations.newest()) {
        throw SqliteErrorText.of(
            path,
            "it was packed by an older Millrace (version %s, expected %s)"
                .formatted(identity.version(), Migrations.newest()),
            "Have it packed again by the present one.");
      }
      String seal = pack.query("checking its seal", () -> sealed(pack, path));
      return new Whole(seal, pack.query("checking its runs", () -> checked(pack, path)));
    }
  }

  /** Takes every run of a pack that is not there yet, or nothing where anything is wrong. */
  static UnpackedRuns take(SqlSession into, Path path) {
    Whole whole = whole(path);
    RunTransfer transfer = new RunTransfer(into, path);
    List<UnpackedRuns.Run> taken = new ArrayList<>();
    try {
      into.transact(
          "taking the runs of '" + path + "'",
          () -> {
            for (RunSummary run : whole.runs()) {
              taken.add(taken(into, transfer, run));
            }
          });
    } finally {
      transfer.end();
    }
    return new UnpackedRuns(whole.seal(), taken);
  }

  private static String sealed(SqlSession pack, Path path) throws SQLException {
    Optional<String> stored = pack.one("SELECT sha256 FROM seal", slots -> {}, SqlQueryRow::text);
    String computed = RunDigest.ofAll(pack);
    if (!stored.equals(Optional.of(computed))) {
      throw changed(path, "its seal", computed, stored.orElse("none"));
    }
    return computed;
  }

  private static List<RunSummary> checked(SqlSession pack, Path path) throws SQLException {
    List<RunSummary> runs = RunSqlRows.list(pack, RunFilter.ALL);
    for (RunSummary run : runs) {
      List<String> faults = LogbookVerifier.ofRun(pack, run);
      if (!faults.isEmpty() || run.digest().isEmpty()) {
        throw SqliteErrorText.of(
            path,
            "run %s in it does not fit its digest and seal: %s"
                .formatted(run.uuid(), String.join(" ", faults)),
            "Nothing was taken. Have it packed and sent again.");
      }
    }
    return runs;
  }

  private static LogbookException changed(Path path, String what, String computed, String stored) {
    return SqliteErrorText.of(
        path,
        "%s does not fit: %s, stored %s; it was changed after it was packed"
            .formatted(what, computed, stored),
        "Nothing was taken. Have it packed and sent again.");
  }

  private static UnpackedRuns.Run taken(SqlSession into, RunTransfer transfer, RunSummary run)
      throws SQLException {
    Optional<Long> there = transfer.there(run.uuid());
    if (there.isPresent()) {
      refuseOther(into, there.get(), run);
    } else {
      transfer.data(run.id());
    }
    long id = transfer.there(run.uuid()).orElseThrow();
    boolean more = transfer.additions(run.id(), id, there.isEmpty());
    return new UnpackedRuns.Run(id, run.uuid(), run.start().unit(), there.isEmpty(), more);
  }

  private static void refuseOther(SqlSession into, long id, RunSummary run) throws SQLException {
    UUID uuid = run.uuid();
    Optional<String> mine = RunSqlRows.byId(into, id).flatMap(RunSummary::digest);
    if (!mine.equals(run.digest())) {
      throw SqliteErrorText.of(
          into.path(),
          "run %s has the UUID %s of a packed run, but other data: digest %s, packed %s"
              .formatted(id, uuid, mine.orElse("none"), run.digest().orElse("none")),
          "Nothing was taken. One of the two was changed: 'millrace show %s --verify'."
              .formatted(id));
    }
  }
}
