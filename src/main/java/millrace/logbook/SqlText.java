// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * SQL as an engine reads it.
 *
 * @param sql its text
 * @param places for each value in the order of filling, which question marks it fills, from 1;
 *     empty where each fills its own
 */
record SqlText(String sql, List<List<Integer>> places) {
  private static final Pattern PLACE =
      Pattern.compile("'[^']*'|\"[^\"]*\"|\\?(?<number>[0-9]*)|/\\*store(?<more>[^*]*)\\*/");

  private static final String OF_FILE = "/*file ";
  private static final Pattern IN_FILE =
      Pattern.compile("/\\*file (?<instead>[^*]*)\\*/ ?[a-z_.]+");

  SqlText {
    places = places.stream().map(List::copyOf).toList();
  }

  static SqlText plain(String sql) {
    return new SqlText(sql, List.of());
  }

  /** The SQL with what a file reads in place of a column of a store. */
  static SqlText ofFile(String shared) {
    return plain(
        shared.contains(OF_FILE) ? IN_FILE.matcher(shared).replaceAll("${instead}") : shared);
  }

  /**
   * The SQL with what only a store reads. In there {@code ?1} is the value that fills the first
   * question mark of the rest.
   */
  static SqlText ofStore(String shared) {
    List<List<Integer>> places = new ArrayList<>();
    StringBuilder sql = new StringBuilder();
    Writer writer = new Writer(sql, places);
    writer.write(shared);
    return new SqlText(sql.toString(), places);
  }

  private static final class Writer {
    private final StringBuilder sql;
    private final List<List<Integer>> places;
    private int marks;
    private int plain;

    Writer(StringBuilder sql, List<List<Integer>> places) {
      this.sql = sql;
      this.places = places;
    }

    private void write(String text) {
      Matcher found = PLACE.matcher(text);
      int from = 0;
      while (found.find()) {
        sql.append(text, from, found.start());
        from = found.end();
        if (found.group("more") != null) {
          write(found.group("more"));
        } else if (found.group("number") != null) {
          mark(found.group("number"));
        } else {
          sql.append(found.group());
        }
      }
      sql.append(text, from, text.length());
    }

    private void mark(String number) {
      int value = number.isEmpty() ? ++plain : Integer.parseInt(number);
      while (places.size() < value) {
        places.add(new ArrayList<>());
      }
      places.get(value - 1).add(++marks);
      sql.append('?');
    }
  }
}
