// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import millrace.evidence.Result;

/**
 * Reads many runs with their last judgings: a few questions for hundreds of runs together, where
 * {@link RunReader} asks for each run alone. One thread at a time, that of the logbook.
 */
public final class JudgedRunReader {
  /** Runs that are asked for in one question. */
  private static final int AT_ONCE = 500;

  /** Numbers of places, so that few statements are prepared, and a server plans for as many. */
  private static final List<Integer> SIZES = List.of(1, 8, 64, AT_ONCE);

  /**
   * The results of judgings e. A store walks from each judging through the key of its run; left to
   * itself it would read a month whole for a few hundred runs.
   */
  private static final String RESULTS =
      "SELECT r.evaluation_id, r.id, "
          + ResultRowMapper.COLUMNS
          + " FROM evaluation e /*store JOIN run u ON u.id = e.run_id*/ JOIN "
          + ResultRowMapper.table(" WHERE x.month = u.month AND x.run_uuid = u.run_uuid OFFSET 0")
          + " r ON r.evaluation_id = e.id";

  private final SqlSession session;
  private final ResultRowMapper mapper;
  private final Map<Long, Optional<FixtureSetUp>> setUps = new HashMap<>();

  /**
   * A reader of a logbook or store.
   *
   * @param book stays open as long as it is read
   */
  public JudgedRunReader(Logbook book) {
    this.session = book.session();
    this.mapper = new ResultRowMapper(session);
  }

  /**
   * Reads runs.
   *
   * @param runs of that logbook
   * @return each of them, in their order
   */
  public List<JudgedRun> of(List<RunSummary> runs) {
    List<JudgedRun> all = new ArrayList<>();
    for (int i = 0; i < runs.size(); i += AT_ONCE) {
      List<RunSummary> some = runs.subList(i, Math.min(runs.size(), i + AT_ONCE));
      all.addAll(session.query("reading runs", () -> block(some)));
    }
    return all;
  }

  /**
   * Reads one run.
   *
   * @param run of that logbook
   * @return with its last judging
   */
  public JudgedRun of(RunSummary run) {
    return of(List.of(run)).get(0);
  }

  /**
   * Runs of which somebody said last that they are not to be used.
   *
   * @param runs of that logbook
   * @return their numbers
   */
  public Set<Long> withdrawn(List<RunSummary> runs) {
    Set<Long> withdrawn = new HashSet<>();
    for (int i = 0; i < runs.size(); i += AT_ONCE) {
      List<RunSummary> some = runs.subList(i, Math.min(runs.size(), i + AT_ONCE));
      session.query(
          "reading notes",
          () ->
              session.list(
                  "SELECT run_id, kind FROM remark WHERE run_id IN ("
                      + places(ids(some))
                      + ") AND point_number IS NULL ORDER BY run_id, id",
                  filling(ids(some)),
                  row -> decide(row.whole(), row.text(), withdrawn)));
    }
    return withdrawn;
  }

  private static boolean decide(long run, String word, Set<Long> withdrawn) {
    RemarkKind kind = StoredEnumWords.known(RemarkKind.class, word);
    if (!kind.decidesUse()) {
      return false;
    }
    return kind == RemarkKind.DO_NOT_USE ? withdrawn.add(run) : withdrawn.remove(run);
  }

  private static List<Long> ids(List<RunSummary> runs) {
    return runs.stream().map(RunSummary::id).toList();
  }

  private static int size(List<Long> numbers) {
    return SIZES.stream().filter(s -> s >= numbers.size()).findFirst().orElse(AT_ONCE);
  }

  private static String places(List<Long> numbers) {
    return ", ?".repeat(size(numbers)).substring(2);
  }

  /** Fills all places; those that are left over with the last number once more. */
  private static SqlSession.Filling filling(List<Long> numbers) {
    return slots -> {
      for (int i = 0; i < size(numbers); i++) {
        slots.whole(numbers.get(Math.min(i, numbers.size() - 1)));
      }
    };
  }

  private List<JudgedRun> block(List<RunSummary> runs) throws SQLException {
    List<Long> ids = ids(runs);
    Map<Long, Long> doubtful = new HashMap<>();
    Map<Long, Last> judgings = judgings(ids, doubtful);
    Map<Long, List<Result>> results = results(judgings.values());
    List<Long> bare =
        ids.stream()
            .filter(i -> !judgings.containsKey(i) || judgings.get(i).sheet().isEmpty())
            .toList();
    Map<Long, String> sheets = bare.isEmpty() ? Map.of() : sheets(bare);
    Map<Long, List<InstrumentEntry>> instruments =
        BenchSqlRows.instruments(session, places(ids), filling(ids));
    List<JudgedRun> all = new ArrayList<>();
    for (RunSummary run : runs) {
      Optional<Last> last = Optional.ofNullable(judgings.get(run.id()));
      all.add(
          new JudgedRun(
              run,
              last.map(
                  l -> new JudgedRun.Judging(results.getOrDefault(l.id(), List.of()), l.bin())),
              last.flatMap(Last::sheet).or(() -> Optional.ofNullable(sheets.get(run.id()))),
              doubtful.getOrDefault(run.id(), 0L),
              instruments.getOrDefault(run.id(), List.of()),
              setUp(run)));
    }
    return all;
  }

  /** The last judging of a run. */
  private record Last(long id, Optional<String> bin, Optional<String> sheet) {}

  /**
   * The last judgings, and how many points of each run are doubtful: in one question, since each
   * costs a way to the server and back.
   */
  private Map<Long, Last> judgings(List<Long> runs, Map<Long, Long> doubtful) throws SQLException {
    Map<Long, Last> last = new HashMap<>();
    session.list(
        "SELECT u.id, (SELECT count(*) FROM point p WHERE p.run_id = u.id"
            + " /*store AND p.month = u.month AND p.run_uuid = u.run_uuid*/"
            + " AND p.state <> 'complete'), e.id, e.bin, f.sha256 FROM run u"
            + " LEFT JOIN evaluation e ON e.run_id = u.id"
            + " LEFT JOIN file f ON f.id = e.datasheet_file_id WHERE u.id IN ("
            + places(runs)
            + ") ORDER BY u.id, e.made_at, e.id",
        filling(runs),
        row -> {
          long run = row.whole();
          doubtful.put(run, row.whole());
          OptionalLong judging = row.maybeWhole();
          Optional<String> bin = row.maybeText();
          Optional<String> sheet = row.maybeText();
          judging.ifPresent(id -> last.put(run, new Last(id, bin, sheet)));
          return run;
        });
    return last;
  }

  /** A result and its number, by which those of a judging are ordered. */
  private record Numbered(long id, Result result) {}

  private Map<Long, List<Result>> results(Collection<Last> judgings) throws SQLException {
    Map<Long, List<Numbered>> found = new HashMap<>();
    if (!judgings.isEmpty()) {
      List<Long> ids = judgings.stream().map(Last::id).toList();
      session.list(
          RESULTS + " WHERE e.id IN (" + places(ids) + ")",
          filling(ids),
          row ->
              found
                  .computeIfAbsent(row.whole(), id -> new ArrayList<>())
                  .add(new Numbered(row.whole(), mapper.result(row))));
    }
    Map<Long, List<Result>> results = new HashMap<>();
    found.forEach((judging, all) -> results.put(judging, inOrder(all)));
    return results;
  }

  /** They come in order of themselves; a server that sorted them would move long rows about. */
  private static List<Result> inOrder(List<Numbered> all) {
    all.sort(Comparator.comparingLong(Numbered::id));
    return all.stream().map(Numbered::result).toList();
  }

  private Map<Long, String> sheets(List<Long> runs) throws SQLException {
    Map<Long, String> sheets = new HashMap<>();
    session.list(
        "SELECT l.run_id, f.sha256 FROM run_file l JOIN file f ON f.id = l.file_id"
            + " WHERE l.run_id IN ("
            + places(runs)
            + ") AND l.role = '"
            + FileRole.DATASHEET.text()
            + "' ORDER BY l.run_id, l.id",
        filling(runs),
        row -> sheets.put(row.whole(), row.text()));
    return sheets;
  }

  private Optional<FixtureSetUp> setUp(RunSummary run) throws SQLException {
    Optional<Long> number = run.setUp();
    if (number.isEmpty()) {
      return Optional.empty();
    }
    if (!setUps.containsKey(number.get())) {
      setUps.put(number.get(), BenchSqlRows.setUp(session, number.get()));
    }
    return setUps.get(number.get());
  }
}
