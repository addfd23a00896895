// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;

/**
 * Folds tables that are wider than a terminal between their columns: columns that do not fit go on
 * a line below, indented, again aligned. Empty lines separate tables.
 */
final class FoldedTable {
  private static final String DEEPER = "    ";
  private static final int GAP = 2;

  private final int width;
  private final StringBuilder folded = new StringBuilder();

  private FoldedTable(int width) {
    this.width = width;
  }

  /** Folds to lines of at most so many characters, as far as the columns allow. */
  static String at(int width, String text) {
    FoldedTable result = new FoldedTable(width);
    List<String> table = new ArrayList<>();
    for (String line : text.split("\n", -1)) {
      if (line.isEmpty()) {
        result.table(table);
        result.folded.append('\n');
        table.clear();
      } else {
        table.add(line);
      }
    }
    result.table(table);
    return result.folded.substring(0, result.folded.length() - 1);
  }

  private void table(List<String> lines) {
    int longest = lines.stream().mapToInt(String::length).max().orElse(0);
    List<Integer> folds = longest <= width ? List.of(longest) : folds(lines, longest);
    for (String line : lines) {
      int from = 0;
      for (int to : folds) {
        piece(line, from, to);
        from = to;
      }
    }
  }

  /** A line of empty cells is left out. */
  private void piece(String line, int from, int to) {
    String text = line.substring(Math.min(from, line.length()), Math.min(to, line.length()));
    if (from == 0) {
      folded.append(inWords(text.stripTrailing())).append('\n');
    } else if (!text.isBlank()) {
      folded.append(inWords(DEEPER + text.stripTrailing())).append('\n');
    }
  }

  private String inWords(String text) {
    return text.length() <= width ? text : Wrapped.at(width, text);
  }

  /** The line breaks: before the columns that do not fit, and after the longest line. */
  private List<Integer> folds(List<String> lines, int longest) {
    List<Integer> folds = new ArrayList<>();
    int from = 0;
    int last = 0;
    for (int next : ends(lines, longest)) {
      int room = width - (from == 0 ? 0 : DEEPER.length());
      if (next - from > room + GAP && last > from) {
        folds.add(last);
        from = last;
      }
      last = next;
    }
    folds.add(longest);
    return folds;
  }

  /** Where each column ends with the gap behind it. */
  private static List<Integer> ends(List<String> lines, int longest) {
    BitSet written = new BitSet();
    for (String line : lines) {
      for (int i = 0; i < line.length(); i++) {
        written.set(i, written.get(i) || line.charAt(i) != ' ');
      }
    }
    List<Integer> ends = new ArrayList<>();
    for (int i = GAP; i < longest; i++) {
      if (written.get(i) && !written.get(i - 1) && !written.get(i - GAP)) {
        ends.add(i);
      }
    }
    ends.add(longest);
    return ends;
  }
}
