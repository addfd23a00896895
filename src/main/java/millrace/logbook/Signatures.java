// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import millrace.document.file.LabKey;

/** Signatures of seals of a run; rows of the table {@code signature}. */
final class Signatures {
  private record Signed(String sealed, String signature) {}

  private Signatures() {}

  /** Signs the seal of a run as it stands, which is a link of its chain itself. */
  static void add(Session session, long run, LabKey.Signing key, Instant at) throws SQLException {
    String seal =
        Chain.seal(session, run)
            .orElseThrow(
                () ->
                    Troubles.of(
                        session.path(),
                        "run " + run + " has neither ended nor was it judged, so it has no seal",
                        "Sign it when it has ended."));
    String signature = key.sign(Chain.statement(Chain.uuid(session, run), seal));
    long id =
        session.insert(
            "INSERT INTO signature (run_id, sealed, signature, signed_at) VALUES (?, ?, ?, ?)",
            slots -> slots.whole(run).text(seal).text(signature).instant(at));
    Chain.add(session, run, Chain.Kind.SIGNATURE, id);
  }

  /**
   * How far a key vouches for a run: the number of the last link of its chain that it signed; empty
   * where it signed none.
   */
  static Optional<Long> covers(Session session, long run, LabKey.Checking key) throws SQLException {
    UUID uuid = Chain.uuid(session, run);
    List<Signed> all =
        session.list(
            "SELECT sealed, signature FROM signature WHERE run_id = ? ORDER BY id",
            slots -> slots.whole(run),
            row -> new Signed(row.text(), row.text()));
    List<String> valid =
        all.stream()
            .filter(s -> key.vouches(Chain.statement(uuid, s.sealed()), s.signature()))
            .map(Signed::sealed)
            .toList();
    return Chain.links(session, run).stream()
        .filter(link -> valid.contains(link.seal()))
        .map(Chain.Link::number)
        .reduce((a, b) -> b);
  }
}
