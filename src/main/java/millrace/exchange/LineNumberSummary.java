// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;

/** Lines of a file for a note: lists the first ones and counts the rest. Single-threaded. */
final class LineNumberSummary {
  private static final int SHOWN = 20;

  private final List<Long> first = new ArrayList<>();
  private long count;

  void add(long line) {
    count++;
    if (first.size() < SHOWN) {
      first.add(line);
    }
  }

  long count() {
    return count;
  }

  /** For example {@code line 4} or {@code lines 4, 9 and 12 more}. */
  @Override
  public String toString() {
    String shown = first.stream().map(String::valueOf).collect(Collectors.joining(", "));
    long more = count - first.size();
    return (count == 1 ? "line " : "lines ") + shown + (more > 0 ? " and " + more + " more" : "");
  }
}
