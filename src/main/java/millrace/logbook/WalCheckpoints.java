// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

/** Moves the content of the write-ahead log into the file (checkpoint). */
final class WalCheckpoints {
  private WalCheckpoints() {}

  /**
   * Empties the log, unless a process is reading or a larger transaction is open: then a later end
   * or the closing of the logbook does it.
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
