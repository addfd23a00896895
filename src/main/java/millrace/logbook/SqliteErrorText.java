// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.file.Path;
import java.sql.SQLException;
import java.util.Map;
import millrace.fault.LogbookException;
import org.sqlite.SQLiteErrorCode;
import org.sqlite.SQLiteException;

/**
 * Translates errors of SQLite into messages that a person at the bench can act on; the only place
 * that does.
 */
final class SqliteErrorText {
  private record Advice(String found, String remedy) {}

  private static final Map<Integer, Advice> BY_CODE =
      Map.ofEntries(
          Map.entry(
              SQLiteErrorCode.SQLITE_FULL.code,
              new Advice("the disk is full", "Free some space on its disk; nothing was lost.")),
          Map.entry(
              SQLiteErrorCode.SQLITE_READONLY.code,
              new Advice(
                  "the file or its folder may not be written",
                  "Check the permissions of both, or name another logbook with --logbook.")),
          Map.entry(
              SQLiteErrorCode.SQLITE_BUSY.code,
              new Advice(
                  "another program holds it locked",
                  "Wait for the other Millrace, or close the database tool that has it open.")),
          Map.entry(
              SQLiteErrorCode.SQLITE_LOCKED.code,
              new Advice("a table is locked", "Try again when the other command has ended.")),
          Map.entry(
              SQLiteErrorCode.SQLITE_CORRUPT.code,
              new Advice(
                  "the file is damaged",
                  "Keep it as it is, work on with a backup, and recover a copy of it.")),
          Map.entry(
              SQLiteErrorCode.SQLITE_NOTADB.code,
              new Advice("this is not a logbook", "Check the path.")),
          Map.entry(
              SQLiteErrorCode.SQLITE_CANTOPEN.code,
              new Advice(
                  "the file cannot be opened",
                  "Check that the folder exists and that you may read and write it.")),
          Map.entry(
              SQLiteErrorCode.SQLITE_IOERR.code,
              new Advice("the disk reports an error", "Check the disk and its cable or network.")),
          Map.entry(
              SQLiteErrorCode.SQLITE_TOOBIG.code,
              new Advice("a text is too long to be stored", "Shorten it.")),
          Map.entry(
              SQLiteErrorCode.SQLITE_CONSTRAINT.code,
              new Advice(
                  "the logbook refuses the change",
                  "What is in a logbook stays; add a remark instead.")));

  private SqliteErrorText() {}

  /**
   * The error of an attempt.
   *
   * @param path the logbook
   * @param attempt what was tried, as in 'while' + attempt
   * @param cause what SQLite said
   */
  static LogbookException of(Path path, String attempt, SQLException cause) {
    Advice advice =
        BY_CODE.getOrDefault(
            code(cause) & 0xff,
            new Advice("SQLite reports a fault", "Run 'millrace show RUN --verify' on it."));
    String text =
        "%s: %s (%s) while %s. %s"
            .formatted(where(path), advice.found(), said(cause), attempt, advice.remedy());
    return new LogbookException(text, cause);
  }

  static LogbookException of(Path path, String found, String remedy) {
    return new LogbookException(where(path) + ": " + found + ". " + remedy);
  }

  static boolean is(SQLException e, SQLiteErrorCode code) {
    return (code(e) & 0xff) == code.code;
  }

  private static int code(SQLException e) {
    return e instanceof SQLiteException sqlite ? sqlite.getResultCode().code : e.getErrorCode();
  }

  static String where(Path path) {
    return "logbook '" + path + "'";
  }

  /** SQLite's own message on one line, for support. */
  private static String said(SQLException e) {
    return String.valueOf(e.getMessage()).lines().findFirst().orElse("no more is known").strip();
  }
}
