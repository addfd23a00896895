// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import millrace.document.file.LabSigningKey;

/** Signatures of seals of a run; rows of the table {@code signature}. */
final class RunSignatures {
  private record Signed(String sealed, String signature) {}

  private RunSignatures() {}

  /** Signs the present seal of a run; the signature is a link of the chain itself. */
  static void add(SqlSession session, long run, LabSigningKey.Signing key, Instant at)
      throws SQLException {
    String seal =
        RunSealChain.seal(session, run)
            .orElseThrow(
                () ->
                    session
                        .engine()
                        .refusal(
                            "run "
                                + run
                                + " has neither ended nor was it judged, so it has no seal",
                            "Sign it when it has ended."));
    String signature = key.sign(RunSealChain.statement(RunSealChain.uuid(session, run), seal));
    long id =
        session.insert(
            "INSERT INTO signature (run_id, sealed, signature, signed_at) VALUES (?, ?, ?, ?)",
            slots -> slots.whole(run).text(seal).text(signature).instant(at));
    RunSealChain.add(session, run, RunSealChain.Kind.SIGNATURE, id);
  }

  /**
   * The number of the last link of the chain of a run that a key signed; empty if it signed none.
   */
  static Optional<Long> covers(SqlSession session, long run, LabSigningKey.Checking key)
      throws SQLException {
    UUID uuid = RunSealChain.uuid(session, run);
    List<Signed> all =
        session.list(
            "SELECT sealed, signature FROM signature WHERE run_id = ? ORDER BY id",
            slots -> slots.whole(run),
            row -> new Signed(row.text(), row.text()));
    List<String> valid =
        all.stream()
            .filter(s -> key.vouches(RunSealChain.statement(uuid, s.sealed()), s.signature()))
            .map(Signed::sealed)
            .toList();
    return RunSealChain.links(session, run).stream()
        .filter(link -> valid.contains(link.seal()))
        .map(RunSealChain.Link::number)
        .reduce((a, b) -> b);
  }
}
