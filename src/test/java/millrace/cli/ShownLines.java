// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;

/**
 * Compares what a page shows of an output with what came: line after line, three dots for lines
 * that are left out. A line may go on where the shown one ends. Whole numbers are the same, others
 * within a tenth, since noise is drawn; times of day do not count.
 */
final class ShownLines {
  private static final Pattern NUMBER = Pattern.compile("\\d+(?:\\.\\d+)?");
  private static final String TIME_OF_DAY = "^\\d{4}-\\d\\d-\\d\\dT\\S+ ";
  private static final double ROOM = 0.1;

  private ShownLines() {}

  /** The first shown line that did not come where it should; empty if all came. */
  static String missing(List<String> shown, String output) {
    List<String> came = output.lines().filter(l -> !l.isBlank()).toList();
    int at = 0;
    boolean anywhere = true;
    for (String line : shown) {
      if (line.equals("...")) {
        anywhere = true;
      } else {
        while (anywhere && at < came.size() && !fits(line, came.get(at))) {
          at++;
        }
        if (at >= came.size() || !fits(line, came.get(at))) {
          return line;
        }
        at++;
        anywhere = false;
      }
    }
    return "";
  }

  /** Whether a line begins as it is shown. */
  static boolean fits(String shown, String came) {
    String wanted = shown.replaceFirst(TIME_OF_DAY, "").stripTrailing();
    String got = came.replaceFirst(TIME_OF_DAY, "");
    if (!shape(got).startsWith(shape(wanted))) {
      return false;
    }
    List<String> a = NUMBER.matcher(wanted).results().map(MatchResult::group).toList();
    List<String> b = NUMBER.matcher(got).results().map(MatchResult::group).toList();
    for (int i = 0; i < a.size(); i++) {
      if (!alike(a.get(i), b.get(i))) {
        return false;
      }
    }
    return true;
  }

  private static String shape(String line) {
    return NUMBER.matcher(line).replaceAll("#");
  }

  private static boolean alike(String shown, String came) {
    if (!shown.contains(".")) {
      return shown.equals(came);
    }
    double wanted = Double.parseDouble(shown);
    return Math.abs(Double.parseDouble(came) - wanted) <= ROOM * Math.abs(wanted);
  }
}
