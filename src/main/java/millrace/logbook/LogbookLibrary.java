// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import millrace.document.Hashes;
import millrace.time.BackgroundThreads;

/** What every logbook needs, and what takes a third of a short command: the database library. */
public final class LogbookLibrary {
  private LogbookLibrary() {}

  /**
   * Begins to load it in a thread of its own, beside other work. What fails here is told where a
   * logbook is opened.
   */
  public static void load() {
    BackgroundThreads.of("millrace-ready", LogbookLibrary::loaded).start();
  }

  private static void loaded() {
    try {
      SqliteConnections.prepare();
      Hashes.sha256();
    } catch (SQLException | RuntimeException | LinkageError e) {
      // Who opens a logbook meets it again, and says so.
    }
  }
}
