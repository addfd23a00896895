package millrace.report;

import java.util.ArrayList;
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
  private static final List<String> HEADS =
      List.of("quantity", "range", "at", "value", "limit", "conformity", "why");
  private static final String GAP = "  ";
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
    List<List<String>> rows = new ArrayList<>();
    rows.add(HEADS);
    results.forEach(r -> rows.add(row(r)));
    int[] widths = widths(rows);
    StringBuilder text = new StringBuilder();
    rows.forEach(row -> line(row, widths, text));
    text.append('\n').append(verdict(results)).append('\n');
    return text.toString();
  }

  private static String verdict(List<Result> results) {
    Verdict verdict = Verdict.of(results);
    return verdict.word() + ": " + verdict.sentence();
  }

  private static List<String> row(Result r) {
    String unit = r.quantity().unit();
    Optional<Judgement> judgement = r.judgement();
    return List.of(
        r.quantity().inWords(),
        r.range().map(ResultTable::plain).orElse(""),
        plain(AtWords.of(r.at())),
        plain(Figures.stated(r).orElse("not computed")),
        judgement.map(j -> Figures.limit(j.limit(), unit)).orElse(""),
        judgement.map(j -> j.conformity().text()).orElse(""),
        plain(Figures.missing(r).orElse("")));
  }

  /** Control characters would move the cursor. */
  private static String plain(String text) {
    StringBuilder out = new StringBuilder(text.length());
    text.codePoints()
        .map(c -> Character.isISOControl(c) || Character.getType(c) == Character.FORMAT ? '?' : c)
        .forEach(out::appendCodePoint);
    return out.toString();
  }

  /** A cell that is wider than most runs over: the columns behind it move for that line only. */
  private static int[] widths(List<List<String>> rows) {
    int[] widths = new int[HEADS.size()];
    for (List<String> row : rows) {
      for (int i = 0; i < widths.length; i++) {
        int length = row.get(i).length();
        widths[i] = length <= WIDEST ? Math.max(widths[i], length) : widths[i];
      }
    }
    return widths;
  }

  private static void line(List<String> row, int[] widths, StringBuilder text) {
    StringBuilder line = new StringBuilder();
    for (int i = 0; i < widths.length; i++) {
      String cell = row.get(i);
      line.append(cell).append(" ".repeat(Math.max(0, widths[i] - cell.length()))).append(GAP);
    }
    text.append(line.toString().stripTrailing()).append('\n');
  }
}
