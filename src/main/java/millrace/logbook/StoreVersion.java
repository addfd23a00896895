// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.Optional;
import millrace.fault.LogbookException;

/** The version of a store's tables. */
final class StoreVersion {
  /** The version that this Millrace writes and reads. */
  static final int NEWEST = 2;

  private StoreVersion() {}

  /** Refuses what is no store, or one of another version. */
  static void check(SqlSession session, PostgresStore store) {
    long version =
        session
            .query("asking for its version", () -> of(session))
            .orElseThrow(
                () ->
                    store.refusal(
                        "there is no store in schema '"
                            + store.address().schema()
                            + "', or this user may not see it",
                        "Its keeper makes it, once: 'millrace publish --prepare --to ...'."));
    if (version > NEWEST) {
      throw newer(store, version);
    }
    if (version < NEWEST) {
      throw store.refusal(
          "it has version %s; this Millrace reads and writes version %s".formatted(version, NEWEST),
          "Its keeper brings it forward: 'millrace publish --prepare --to ...'.");
    }
  }

  private static Optional<Long> of(SqlSession session) throws SQLException {
    boolean there =
        session
                .one(
                    "SELECT count(*) FROM pg_catalog.pg_class WHERE oid ="
                        + " to_regclass('flyway_schema_history')",
                    slots -> {},
                    SqlQueryRow::whole)
                .orElse(0L)
            > 0;
    return there
        ? session.one(
            "SELECT max(CAST(version AS INTEGER)) FROM flyway_schema_history WHERE success",
            slots -> {},
            SqlQueryRow::whole)
        : Optional.empty();
  }

  /** Refuses one of a newer version; tells of no other. */
  static void refuseNewer(SqlSession session, PostgresStore store) {
    session
        .query("asking for its version", () -> of(session))
        .filter(version -> version > NEWEST)
        .ifPresent(
            version -> {
              throw newer(store, version);
            });
  }

  private static LogbookException newer(PostgresStore store, long version) {
    return store.refusal(
        "it has version %s; this Millrace knows stores up to version %s".formatted(version, NEWEST),
        "Use a newer Millrace; nothing there was touched.");
  }
}
