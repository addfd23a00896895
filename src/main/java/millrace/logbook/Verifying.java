package millrace.logbook;

import java.security.MessageDigest;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.document.Hashes;

/** Checks that the file is whole and that a run's data are what they were when it ended. */
final class Verifying {
  private static final int MOST_LINES = 20;

  private Verifying() {}

  static Verification of(Session session, RunSummary run) {
    return session.query(
        "checking run " + run.id(),
        () -> {
          List<String> faults = new ArrayList<>(integrity(session));
          faults.addAll(files(session, run.id()));
          String computed = Digest.of(session, run.id());
          run.digest()
              .filter(stored -> !stored.equals(computed))
              .ifPresent(
                  stored ->
                      faults.add(
                          "The data of run "
                              + run.id()
                              + " are not those that were stored at its end: digest "
                              + computed
                              + ", stored "
                              + stored
                              + "."));
          return new Verification(computed, run.digest(), faults);
        });
  }

  private static List<String> integrity(Session session) throws SQLException {
    List<String> faults =
        new ArrayList<>(
            session.list("PRAGMA integrity_check(" + MOST_LINES + ")", slots -> {}, Row::text));
    faults.remove("ok");
    faults.addAll(
        session.list(
            "PRAGMA foreign_key_check",
            slots -> {},
            row -> "A row of table " + row.text() + " refers to one that is not there."));
    return faults.subList(0, Math.min(faults.size(), MOST_LINES));
  }

  private static List<String> files(Session session, long run) throws SQLException {
    List<String> faults = new ArrayList<>();
    for (RunFile file : FileRows.list(session, run)) {
      if (!hash(session, file).equals(file.sha256())) {
        faults.add("The kept file '" + file.name() + "' is not what it was.");
      }
    }
    return faults;
  }

  private static String hash(Session session, RunFile file) throws SQLException {
    MessageDigest hash = Hashes.sha256();
    Optional<byte[]> piece = FileRows.piece(session, file.sha256(), 0);
    for (int number = 1; piece.isPresent(); number++) {
      hash.update(piece.get());
      piece = FileRows.piece(session, file.sha256(), number);
    }
    return Hashes.hex(hash.digest());
  }
}
