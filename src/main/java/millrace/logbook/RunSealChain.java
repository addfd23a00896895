// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.nio.charset.StandardCharsets;
import java.sql.SQLException;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import millrace.quantity.EnumWord;

/**
 * The chain of seals of a run. Its end and each judging, note, change of plan and signature add a
 * link, whose seal is SHA-256 over the previous seal and the addition. Nothing can then be changed
 * or removed without changing every later seal.
 */
final class RunSealChain {
  /** The start value of the chain. */
  private static final String HEAD = "millrace seal 1";

  /** The kinds of links. */
  enum Kind implements EnumWord {
    /** It ended; its content is the digest. */
    END("end", "run", ""),
    /** It was judged. */
    JUDGING(
        "judging",
        "evaluation",
        "SELECT e.basis, e.made_at, e.millrace, f.sha256, e.reference_temperature_degC, e.type_run,"
            + " e.bin, e.reason FROM evaluation e LEFT JOIN file f ON f.id = e.datasheet_file_id"
            + " WHERE e.id = ?"),
    /** A note was added. */
    NOTE(
        "note",
        "remark",
        "SELECT point_number, kind, text, author, written_at FROM remark WHERE id = ?"),
    /** Its plan was changed. */
    PLAN_CHANGE(
        "plan change",
        "plan_change",
        "SELECT kind, text, reason, who, at, elapsed FROM plan_change WHERE id = ?"),
    /** A signature was added. */
    SIGNATURE(
        "signature",
        "signature",
        "SELECT sealed, signature, signed_at FROM signature WHERE id = ?");

    private final String text;
    private final String table;
    private final String row;

    Kind(String text, String table, String row) {
      this.text = text;
      this.table = table;
      this.row = row;
    }

    @Override
    public String text() {
      return text;
    }

    String table() {
      return table;
    }

    /** What asks for one row, whose number fills its place. */
    String row() {
      return row;
    }

    /** The numbers of the rows of a run, in the order of adding; none for its ends. */
    List<Long> ids(SqlSession session, long run) throws SQLException {
      return this == END
          ? List.of()
          : session.list(
              "SELECT id FROM " + table + " WHERE run_id = ? ORDER BY id",
              slots -> slots.whole(run),
              SqlQueryRow::whole);
    }

    /** SHA-256 of one row and of what hangs on it, without local numbers. */
    String content(SqlSession session, long id) throws SQLException {
      RowHash hash = new RowHash().add(session, table, row, slots -> slots.whole(id));
      return (this == JUDGING ? ResultSqlRows.add(session, id, hash) : hash).hex();
    }

    static Kind of(String text) {
      return StoredEnumWords.known(Kind.class, text);
    }
  }

  /**
   * One link.
   *
   * @param number from 1
   * @param kind what was added
   * @param nth which row of its kind, from 1
   * @param content SHA-256 of what was added
   * @param seal SHA-256 of the seal before and this
   */
  record Link(long number, Kind kind, long nth, String content, String seal) {
    /** The seal that this link must have after a given one. */
    String follows(String before) {
      return new RowHash()
          .line(before + "\t" + number + "\t" + kind.text + "\t" + nth + "\t" + content)
          .hex();
    }
  }

  private RunSealChain() {}

  /** The start value of the chain: the UUID of the run. */
  static String begin(UUID uuid) {
    return new RowHash().line(HEAD + "\t" + uuid).hex();
  }

  static List<Link> links(SqlSession session, long run) throws SQLException {
    return linksIn(session, "", run);
  }

  /** The same of a run in an attached file. */
  static List<Link> linksIn(SqlSession session, String file, long run) throws SQLException {
    return session.list(
        "SELECT number, kind, nth, content, seal FROM "
            + file
            + "link WHERE run_id = ? ORDER BY number",
        slots -> slots.whole(run),
        row -> new Link(row.whole(), Kind.of(row.text()), row.whole(), row.text(), row.text()));
  }

  private static Optional<Link> last(SqlSession session, long run) throws SQLException {
    return session.one(
        "SELECT number, kind, nth, content, seal FROM link WHERE run_id = ?"
            + " ORDER BY number DESC LIMIT 1",
        slots -> slots.whole(run),
        row -> new Link(row.whole(), Kind.of(row.text()), row.whole(), row.text(), row.text()));
  }

  /** The present seal of a run; empty if nothing was added yet. */
  static Optional<String> seal(SqlSession session, long run) throws SQLException {
    return last(session, run).map(Link::seal);
  }

  /** Adds a link for a row that was just added. */
  static void add(SqlSession session, long run, Kind kind, long id) throws SQLException {
    add(session, run, kind, kind.content(session, id));
  }

  /** Adds a link for something whose content is known. */
  static void add(SqlSession session, long run, Kind kind, String content) throws SQLException {
    Optional<Link> before = last(session, run);
    long nth =
        1
            + session
                .one(
                    "SELECT coalesce(max(nth), 0) FROM link WHERE run_id = ? AND kind = ?",
                    slots -> slots.whole(run).text(kind.text),
                    SqlQueryRow::whole)
                .orElse(0L);
    Link bare = new Link(before.map(Link::number).orElse(0L) + 1, kind, nth, content, "");
    String from = before.isPresent() ? before.get().seal() : begin(uuid(session, run));
    insert(session, run, new Link(bare.number(), kind, nth, content, bare.follows(from)));
  }

  private static void insert(SqlSession session, long run, Link link) throws SQLException {
    session.change(
        "INSERT INTO link (run_id, number, kind, nth, content, seal) VALUES (?, ?, ?, ?, ?, ?)",
        slots ->
            slots
                .whole(run)
                .whole(link.number())
                .text(link.kind().text)
                .whole(link.nth())
                .text(link.content())
                .text(link.seal()));
  }

  static UUID uuid(SqlSession session, long run) throws SQLException {
    return session
        .one("SELECT uuid FROM run WHERE id = ?", slots -> slots.whole(run), SqlQueryRow::text)
        .map(UUID::fromString)
        .orElseThrow();
  }

  /** The text that is signed: which run, and its seal; ASCII. */
  static byte[] statement(UUID uuid, String seal) {
    return (HEAD + "\n" + uuid + "\n" + seal + "\n").getBytes(StandardCharsets.US_ASCII);
  }
}
