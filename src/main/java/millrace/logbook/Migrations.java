// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.sql.SQLException;
import java.util.List;
import java.util.UUID;

/**
 * The numbered steps that bring a logbook to the present schema; forward only. The application_id
 * of a file marks it as a logbook, and its user_version is the number of the last step.
 */
final class Migrations {
  /** The letters MRLP: a pack, which is a logbook that is only read. */
  static final int PACK_ID = 0x4d524c50;

  private static final List<String> SCRIPTS =
      List.of(
          "1-runs.sql",
          "2-results.sql",
          "3-judgings.sql",
          "4-seal.sql",
          "5-short-readings.sql",
          "6-settings.sql",
          "7-words.sql");

  /** The first version with seals. */
  private static final int SEALED = 4;

  /** The first version with words of results apart. */
  private static final int WORDS_APART = 7;

  private Migrations() {}

  /** The version that this Millrace writes. */
  static int newest() {
    return SCRIPTS.size();
  }

  /** The identification of a file. */
  record Identity(long applicationId, long version, boolean empty) {
    boolean pack() {
      return applicationId == PACK_ID;
    }

    /** An empty file, or one whose creation ended before its first table. */
    boolean unborn() {
      return empty && applicationId == 0 && version == 0;
    }
  }

  static Identity identity(SqlSession session) {
    return session.query(
        "looking at what file it is",
        () ->
            new Identity(
                pragma(session, "application_id"),
                pragma(session, "user_version"),
                session
                    .one("SELECT 1 FROM sqlite_schema LIMIT 1", slots -> {}, SqlQueryRow::whole)
                    .isEmpty()));
  }

  private static long pragma(SqlSession session, String name) throws SQLException {
    return session.one("PRAGMA " + name, slots -> {}, SqlQueryRow::whole).orElse(0L);
  }

  /** Refuses what is not a logbook, or is one of a newer Millrace. */
  static void check(Path path, Identity identity) {
    if (identity.applicationId() != LogbookFileIdentity.APPLICATION_ID && !identity.pack()) {
      throw SqliteErrorText.of(
          path,
          "this is " + (identity.empty() ? "an empty database" : "another program's database"),
          "Expected a logbook of Millrace. Check the path.");
    }
    if (identity.version() > newest()) {
      throw SqliteErrorText.of(
          path,
          "it has version "
              + identity.version()
              + "; this Millrace knows logbooks up to version "
              + newest(),
          "Use a newer Millrace; the file was not touched.");
    }
  }

  /** Takes all outstanding steps, or none. */
  static void forward(SqlSession session) {
    session.transact("bringing it to version " + newest(), () -> steps(session, newest()));
  }

  /** For tests of a migration. */
  static void steps(SqlSession session, int to) throws SQLException {
    long from = pragma(session, "user_version");
    for (int step = (int) from; step < to; step++) {
      session.script(script(SCRIPTS.get(step)));
    }
    if (from < WORDS_APART && to >= WORDS_APART) {
      ResultWords.number(session);
    }
    if (from < SEALED && to >= SEALED) {
      session.change(
          "INSERT INTO logbook (uuid) VALUES (?)",
          slots -> slots.text(UUID.randomUUID().toString()));
      seal(session);
    }
    session.script("PRAGMA application_id = " + LogbookFileIdentity.APPLICATION_ID);
    session.script("PRAGMA user_version = " + Math.max(from, to));
  }

  /** Adds seals to the runs of an older file. */
  private static void seal(SqlSession session) throws SQLException {
    for (RunSummary run : RunSqlRows.list(session, RunFilter.ALL)) {
      if (run.digest().isPresent()) {
        RunSealChain.add(
            session, run.id(), RunSealChain.Kind.END, RunDigest.store(session, run.id()));
      }
      for (RunSealChain.Kind kind : List.of(RunSealChain.Kind.JUDGING, RunSealChain.Kind.NOTE)) {
        for (long id : kind.ids(session, run.id())) {
          RunSealChain.add(session, run.id(), kind, id);
        }
      }
    }
  }

  private static String script(String name) {
    try (InputStream in = Migrations.class.getResourceAsStream(name)) {
      if (in == null) {
        throw new IllegalStateException("the program lacks its own file " + name);
      }
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
