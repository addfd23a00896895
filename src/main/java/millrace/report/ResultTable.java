package millrace.report;

import java.util.List;
import java.util.Optional;
import millrace.evidence.Judgement;
import millrace.evidence.Result;

/**
 * Results as a table for the terminal: plain text, columns aligned, each line short enough for a
 * wide window; what was not computed says why.
 *
 * <p>Stateless, thread-safe.
 */
public final class ResultTable {
  private static final int WIDEST = 48;

  private ResultTable() {}

  /**
   * Sets results in columns: quantity, range, conditions, value with expanded uncertainty (two
   * significant digits of it), limit, conformity, for what was not computed why; below them what
   * they come to.
   *
   * @param results in the order of printing; may be empty
   * @return lines, each with its line feed
   */
  public static String print(List<Result> results) {
    TextColumns table =
        new TextColumns(WIDEST, "quantity", "range", "at", "value", "limit", "conformity", "why");
    results.forEach(r -> row(table, r));
    return table.text() + "\n" + verdict(results) + "\n";
  }

  private static String verdict(List<Result> results) {
    Verdict verdict = Verdict.of(results);
    return verdict.word() + ": " + verdict.sentence();
  }

  private static void row(TextColumns table, Result r) {
    String unit = r.quantity().unit();
    Optional<Judgement> judgement = r.judgement();
    table.row(
        r.quantity().inWords(),
        r.range().orElse(""),
        AtWords.of(r.at()),
        Figures.stated(r).orElse("not computed"),
        judgement.map(j -> Figures.limit(j.limit(), unit)).orElse(""),
        judgement.map(j -> j.conformity().text()).orElse(""),
        Figures.missing(r).orElse(""));
  }
}
