// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Checks that the file is intact, that the data of a run are unchanged since it ended, and that no
 * later addition was changed or removed; names the part that does not fit.
 */
final class LogbookVerifier {
  private static final int MOST_LINES = 20;

  private final SqlSession session;
  private final RunSummary run;
  private final List<String> faults = new ArrayList<>();

  private LogbookVerifier(SqlSession session, RunSummary run) {
    this.session = session;
    this.run = run;
  }

  static RunVerification of(SqlSession session, RunSummary run) {
    return session.query(
        "checking run " + run.id(),
        () -> {
          LogbookVerifier check = new LogbookVerifier(session, run);
          check.integrity();
          check.files();
          return check.checked();
        });
  }

  /** The same without the check of the whole file. */
  static List<String> ofRun(SqlSession session, RunSummary run) throws SQLException {
    return new LogbookVerifier(session, run).checked().faults();
  }

  private RunVerification checked() throws SQLException {
    Map<RunDigest.Part, String> now = RunDigest.parts(session, run.id());
    List<RunSealChain.Link> links = RunSealChain.links(session, run.id());
    digest(now);
    ends(links);
    follows(links);
    for (RunSealChain.Kind kind : RunSealChain.Kind.values()) {
      contents(kind, links.stream().filter(l -> l.kind() == kind).toList());
    }
    List<RunVerification.Seal> seals =
        links.stream().map(l -> new RunVerification.Seal(l.kind().text(), l.seal())).toList();
    return new RunVerification(RunDigest.of(now), run.digest(), seals, faults);
  }

  private void fault(String text) {
    faults.add("Run %s: %s".formatted(run.id(), text));
  }

  private void digest(Map<RunDigest.Part, String> now) throws SQLException {
    Map<RunDigest.Part, String> stored = RunDigest.stored(session, run.id());
    if (run.state() == RunState.UNFINISHED) {
      if (run.digest().isPresent() || !stored.isEmpty()) {
        fault("it has a digest although it has not ended, so its state was changed.");
      }
      return;
    }
    if (run.digest().isEmpty() || stored.size() < RunDigest.Part.values().length) {
      fault("its digest is missing or not whole, which a run that ended has; it was taken out.");
    }
    for (RunDigest.Part part : RunDigest.Part.values()) {
      if (stored.containsKey(part) && !now.get(part).equals(stored.get(part))) {
        fault(part.words() + " are not what was stored at its end.");
      }
    }
    if (run.digest().isPresent() && !run.digest().get().equals(RunDigest.of(stored))) {
      fault("its digest is not that of its parts, so one of them was changed.");
    }
  }

  /** The last end in the chain must match the present data. */
  private void ends(List<RunSealChain.Link> links) {
    Optional<String> last =
        links.stream()
            .filter(l -> l.kind() == RunSealChain.Kind.END)
            .reduce((a, b) -> b)
            .map(RunSealChain.Link::content);
    if (run.state() != RunState.UNFINISHED && !last.equals(run.digest())) {
      fault("the seal at its end is not of its digest, so one of both was changed or taken out.");
    }
  }

  private void follows(List<RunSealChain.Link> links) {
    String before = RunSealChain.begin(run.uuid());
    for (int i = 0; i < links.size(); i++) {
      RunSealChain.Link link = links.get(i);
      if (link.number() != i + 1 || !link.seal().equals(link.follows(before))) {
        fault(
            "seal %s (%s) does not follow the one before it; something was changed or taken out there."
                .formatted(i + 1, link.kind().text()));
        return;
      }
      before = link.seal();
    }
  }

  private void contents(RunSealChain.Kind kind, List<RunSealChain.Link> links) throws SQLException {
    if (kind == RunSealChain.Kind.END) {
      return;
    }
    List<Long> rows = kind.ids(session, run.id());
    if (rows.size() != links.size()) {
      fault(
          "it has %s of kind '%s' and seals for %s; the others were put in or taken out past them."
              .formatted(rows.size(), kind.text(), links.size()));
    }
    for (int i = 0; i < Math.min(rows.size(), links.size()); i++) {
      if (!kind.content(session, rows.get(i)).equals(links.get(i).content())) {
        fault(
            "%s %s is not what was sealed%s."
                .formatted(
                    kind.text(),
                    i + 1,
                    kind == RunSealChain.Kind.JUDGING
                        ? " (its results, budgets or what it rests on)"
                        : ""));
      }
    }
  }

  private void integrity() throws SQLException {
    List<String> found = new ArrayList<>();
    for (String check : session.engine().checks(MOST_LINES)) {
      found.addAll(session.list(check, slots -> {}, SqlQueryRow::text));
    }
    found.remove("ok");
    faults.addAll(found.subList(0, Math.min(found.size(), MOST_LINES)));
  }

  private void files() throws SQLException {
    for (RunInputFile file : FileSqlRows.list(session, run.id())) {
      if (!FileSqlRows.isSound(session, file.sha256())) {
        faults.add("The kept file '" + file.name() + "' is not what it was.");
      }
    }
  }
}
