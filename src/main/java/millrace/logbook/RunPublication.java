// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * Copies one run from a logbook into a store, inside a transaction of the store. What is sent is
 * what the digest is made of, by the same questions ({@link RunDigest}), then judgings and notes in
 * the order of their seals. Local numbers are replaced.
 */
final class RunPublication {
  private final SqlSession book;
  private final SqlSession store;
  private final RunSummary run;

  RunPublication(SqlSession book, SqlSession store, RunSummary run) {
    this.book = book;
    this.store = store;
    this.run = run;
  }

  /** Its number in the store; empty if it is not there. */
  Optional<Long> there() throws SQLException {
    return store.one(
        "SELECT id FROM run WHERE uuid = ?",
        slots -> slots.text(run.uuid().toString()),
        SqlQueryRow::whole);
  }

  private StoreCopy.Question ask(String sql, long number) {
    return new StoreCopy.Question(book, sql, slots -> slots.whole(number));
  }

  private StoreCopy.Question ask(RunDigest.Part part) {
    return ask(part.question(), run.id());
  }

  /** Sends what was measured; answers the number of the run in the store. */
  long data() throws SQLException {
    StoreCopy.all(
        store,
        "run",
        ask(RunDigest.Part.RUN),
        List.of(
            new StoreCopy.Column("state", run.state().text()),
            new StoreCopy.Column("ended_at", run.endedAt().map(TimestampNanos::nanos).orElse(null)),
            new StoreCopy.Column("remark", run.remark()),
            new StoreCopy.Column("digest", run.digest().orElseThrow()),
            new StoreCopy.Column("setup_id", setUp().orElse(null))));
    long here = there().orElseThrow();
    List<StoreCopy.Column> of = List.of(new StoreCopy.Column("run_id", here));
    for (RunDigest.Part part :
        List.of(
            RunDigest.Part.FACT,
            RunDigest.Part.INSTRUMENT,
            RunDigest.Part.STEP,
            RunDigest.Part.INCIDENT)) {
      StoreCopy.all(store, part.table(), ask(part), of);
    }
    files(here);
    points(here);
    new ReadingPublication(book, store, run.id(), here).send();
    return here;
  }

  private Optional<Long> setUp() throws SQLException {
    Optional<FixtureSetUp> setUp =
        run.setUp().isPresent() ? BenchSqlRows.setUp(book, run.setUp().get()) : Optional.empty();
    if (setUp.isEmpty()) {
      return Optional.empty();
    }
    store.change(
        "INSERT INTO setup (fixture, cables, remark) VALUES (?, ?, ?) ON CONFLICT DO NOTHING",
        slots ->
            slots
                .text(setUp.get().fixture())
                .text(setUp.get().cables())
                .text(setUp.get().remark()));
    return Optional.of(BenchSqlRows.setUp(store, setUp.get()));
  }

  private void files(long here) throws SQLException {
    Set<String> missing = new HashSet<>();
    for (RunInputFile file : FileSqlRows.list(book, run.id())) {
      missing.add(file.sha256());
    }
    keep(missing);
    for (RunInputFile file : FileSqlRows.list(book, run.id())) {
      FileSqlRows.link(store, here, file);
    }
  }

  /**
   * Sends files that are not there yet, in one order for all benches, so that none waits in turn.
   */
  private void keep(Set<String> hashes) throws SQLException {
    for (String sha256 : hashes.stream().sorted().toList()) {
      if (FileSqlRows.id(store, sha256).isEmpty()) {
        FilePublication.send(book, store, sha256);
      }
    }
  }

  private void points(long here) throws SQLException {
    // A point has its number in the run also as its number in the store.
    String question = RunDigest.Part.POINT.question();
    StoreCopy.all(
        store,
        "point",
        ask(question.replace("SELECT number,", "SELECT number AS id, number,"), run.id()),
        key(here));
  }

  private List<StoreCopy.Column> key(long here) throws SQLException {
    List<StoreCopy.Column> key = new ArrayList<>(StoreKey.of(store, here).columns());
    key.add(new StoreCopy.Column("run_id", here));
    return key;
  }

  /** Sends judgings and notes that are not there yet; tells whether there were any. */
  boolean additions(long here, boolean fresh) throws SQLException {
    Set<String> known =
        RunSealChain.links(store, here).stream()
            .map(RunSealChain.Link::content)
            .collect(Collectors.toSet());
    boolean any = false;
    for (RunSealChain.Link link : RunSealChain.links(book, run.id())) {
      if (link.kind() != RunSealChain.Kind.END && !known.contains(link.content())) {
        add(link, here);
        if (!fresh) {
          RunSealChain.add(store, here, link.kind(), link.content());
        }
        any = true;
      }
    }
    if (fresh) {
      seals(here);
    }
    return any;
  }

  private void seals(long here) throws SQLException {
    List<StoreCopy.Column> of = List.of(new StoreCopy.Column("run_id", here));
    StoreCopy.all(
        store,
        "link",
        ask(
            "SELECT number, kind, nth, content, seal FROM link WHERE run_id = ? ORDER BY number",
            run.id()),
        of);
    StoreCopy.all(
        store,
        "digest_part",
        ask("SELECT part, sha256 FROM digest_part WHERE run_id = ?", run.id()),
        of);
  }

  private void add(RunSealChain.Link link, long here) throws SQLException {
    long there = link.kind().ids(book, run.id()).get((int) link.nth() - 1);
    if (link.kind() == RunSealChain.Kind.JUDGING) {
      judging(there, here);
    } else {
      StoreCopy.all(
          store,
          link.kind().table(),
          ask(link.kind().row(), there),
          List.of(new StoreCopy.Column("run_id", here)));
    }
  }

  private void judging(long there, long here) throws SQLException {
    keep(
        Set.copyOf(
            book.list(
                "SELECT f.sha256 FROM evaluation e JOIN file f ON f.id = e.datasheet_file_id"
                    + " WHERE e.id = ?1 UNION SELECT f.sha256 FROM evaluation_bench b"
                    + " JOIN file f ON f.id = b.file_id WHERE b.evaluation_id = ?1",
                slots -> slots.whole(there),
                SqlQueryRow::text)));
    Optional<String> sheet =
        book.one(
            "SELECT f.sha256 FROM evaluation e JOIN file f ON f.id = e.datasheet_file_id"
                + " WHERE e.id = ?",
            slots -> slots.whole(there),
            SqlQueryRow::text);
    Optional<Long> sheetId =
        sheet.isPresent() ? FileSqlRows.id(store, sheet.get()) : Optional.empty();
    StoreCopy.all(
        store,
        "evaluation",
        ask(
            "SELECT basis, made_at, millrace, reference_temperature_degC, type_run, bin, reason"
                + " FROM evaluation WHERE id = ?",
            there),
        List.of(
            new StoreCopy.Column("run_id", here),
            new StoreCopy.Column("datasheet_file_id", sheetId.orElse(null))));
    long judging =
        store
            .one(
                "SELECT max(id) FROM evaluation WHERE run_id = ?",
                slots -> slots.whole(here),
                SqlQueryRow::whole)
            .orElseThrow();
    otherBenches(there, judging);
    results(there, judging, here);
  }

  private void otherBenches(long there, long judging) throws SQLException {
    record Bench(long number, String sha256, Optional<String> instrument) {}
    List<Bench> all =
        book.list(
            "SELECT b.number, f.sha256, b.instrument FROM evaluation_bench b"
                + " JOIN file f ON f.id = b.file_id WHERE b.evaluation_id = ? ORDER BY b.number",
            slots -> slots.whole(there),
            row -> new Bench(row.whole(), row.text(), row.maybeText()));
    for (Bench each : all) {
      long file = FileSqlRows.id(store, each.sha256()).orElseThrow();
      store.change(
          "INSERT INTO evaluation_bench (evaluation_id, number, file_id, instrument)"
              + " VALUES (?, ?, ?, ?)",
          slots -> slots.whole(judging).whole(each.number()).whole(file).text(each.instrument()));
    }
  }

  private void results(long there, long judging, long here) throws SQLException {
    List<Long> ids =
        book.list(
            "SELECT id FROM result WHERE evaluation_id = ? ORDER BY id",
            slots -> slots.whole(there),
            SqlQueryRow::whole);
    if (ids.isEmpty()) {
      return;
    }
    Map<Long, Long> numbers = new HashMap<>();
    List<Long> free =
        store.list(
            "SELECT nextval('result_id') FROM generate_series(1, ?)",
            slots -> slots.whole(ids.size()),
            SqlQueryRow::whole);
    for (int i = 0; i < ids.size(); i++) {
      numbers.put(ids.get(i), free.get(i));
    }
    StoreKey key = StoreKey.of(store, here);
    numbered(
        "result",
        ask(
            "SELECT id, "
                + ResultSqlRows.COLUMNS
                + " FROM result_in_full WHERE evaluation_id = ?"
                + " ORDER BY id",
            there),
        key.and("evaluation_id", judging),
        numbers);
    numbered(
        "component",
        ask(
            "SELECT c.result_id, c.component, c.\"group\", c.value, c.unit, c.distribution,"
                + " c.sensitivity, c.contribution, c.degrees_of_freedom FROM result r"
                + " JOIN component_in_full c ON c.result_id = r.id WHERE r.evaluation_id = ?"
                + " ORDER BY r.id, c.number",
            there),
        key.columns(),
        numbers);
  }

  /** Copies rows of which the first column is the number of a result. */
  private void numbered(
      String table,
      StoreCopy.Question question,
      List<StoreCopy.Column> before,
      Map<Long, Long> numbers)
      throws SQLException {
    try (SqlStatement statement = question.asked();
        ResultSet answer = statement.query()) {
      List<String> names = new ArrayList<>(before.stream().map(StoreCopy.Column::name).toList());
      int count = answer.getMetaData().getColumnCount();
      for (int i = 1; i <= count; i++) {
        names.add(answer.getMetaData().getColumnLabel(i));
      }
      StoreCopy copy = new StoreCopy(store, table, names);
      while (answer.next()) {
        before.forEach(each -> copy.field(each.value()));
        copy.field(numbers.get(answer.getLong(1)));
        for (int i = 2; i <= count; i++) {
          copy.field(answer.getObject(i));
        }
        copy.row();
      }
      copy.end();
    }
  }

  /** Why what the store now holds is not this run; empty if it is. */
  Optional<String> fault(long here) throws SQLException {
    RunSummary stored = RunSqlRows.byId(store, here).orElseThrow();
    List<String> faults = LogbookVerifier.ofRun(store, stored);
    if (faults.isEmpty() && stored.digest().equals(run.digest())) {
      return Optional.empty();
    }
    List<String> own = LogbookVerifier.ofRun(book, run);
    return Optional.of(
        own.isEmpty()
            ? "what arrived is not what was sent: " + String.join(" ", faults)
            : "the run in the logbook does not fit its own digest and seal: "
                + String.join(" ", own));
  }
}
