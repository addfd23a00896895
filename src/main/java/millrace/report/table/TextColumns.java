// SPDX-License-Identifier: Apache-2.0
package millrace.report.table;

import java.util.ArrayList;
import java.util.List;

/** Rows of text in columns for the terminal. Single-threaded. */
public final class TextColumns {
  private static final String GAP = "  ";

  private final int widest;
  private final List<List<String>> rows = new ArrayList<>();

  /**
   * Creates a table without rows.
   *
   * @param widest largest column width; a wider cell moves the columns behind it, in its line only
   */
  public TextColumns(int widest, String... heads) {
    this.widest = widest;
    rows.add(List.of(heads));
  }

  /** Adds a row with as many cells as the head. */
  public TextColumns row(String... cells) {
    rows.add(List.of(cells).stream().map(TextColumns::plain).toList());
    return this;
  }

  /**
   * The text with a question mark for each control character, since these would move the cursor.
   */
  public static String plain(String text) {
    StringBuilder out = new StringBuilder(text.length());
    text.codePoints()
        .map(c -> Character.isISOControl(c) || Character.getType(c) == Character.FORMAT ? '?' : c)
        .forEach(out::appendCodePoint);
    return out.toString();
  }

  /** Whether the table has no rows. */
  public boolean empty() {
    return rows.size() == 1;
  }

  /** The lines, each with its line feed. */
  public String text() {
    int[] widths = widths();
    StringBuilder text = new StringBuilder();
    rows.forEach(row -> line(row, widths, text));
    return text.toString();
  }

  private int[] widths() {
    int[] widths = new int[rows.get(0).size()];
    for (List<String> row : rows) {
      for (int i = 0; i < widths.length; i++) {
        int length = row.get(i).length();
        widths[i] = length <= widest ? Math.max(widths[i], length) : widths[i];
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
