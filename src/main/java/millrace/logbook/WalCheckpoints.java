// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

/** Moves what is in the write-ahead log into the file itself. */
final class WalCheckpoints {
  private WalCheckpoints() {}

  /**
   * Empties the log, unless someone is reading just now or a larger transaction is going on: then a
   * later end or the closing of the logbook does it.
   */
  static void whenPossible(SqlSession session) {
    if (session.insideTransaction()) {
      return;
    }
    session.query(
        "emptying its write-ahead log",
        () -> session.one("PRAGMA wal_checkpoint(TRUNCATE)", slots -> {}, SqlQueryRow::whole));
  }
}
