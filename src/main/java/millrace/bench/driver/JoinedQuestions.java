// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import java.util.ArrayList;
import java.util.List;

/**
 * Several questions in one line, and their replies. Message units are separated by semicolons, in
 * the reply too (IEEE 488.2-1992, 7.4.1 and 8.4.1), and a header begins where the one before it
 * ended unless a colon stands before it (SCPI-1999 volume 1, 6.2.4); clauses from memory.
 */
final class JoinedQuestions {
  private static final char SEPARATOR = ';';

  private JoinedQuestions() {}

  /** One line for all, the headers as short as the one before each allows. */
  static String joined(List<String> questions) {
    StringBuilder line = new StringBuilder(questions.get(0));
    String path = path("", questions.get(0));
    for (String question : questions.subList(1, questions.size())) {
      line.append(SEPARATOR).append(behind(path, question));
      path = path(path, question);
    }
    return line.toString();
  }

  private static String behind(String path, String question) {
    if (isCommon(question) || question.startsWith(":")) {
      return question;
    }
    return !path.isEmpty() && question.startsWith(path)
        ? question.substring(path.length())
        : ":" + question;
  }

  /** Where the next header begins: common commands leave that as it is. */
  private static String path(String before, String question) {
    if (isCommon(question)) {
      return before;
    }
    String header = question.startsWith(":") ? question.substring(1) : question;
    return header.substring(0, header.lastIndexOf(':') + 1);
  }

  private static boolean isCommon(String question) {
    return question.startsWith("*");
  }

  /** The replies in a line, in order; a semicolon between quotes separates nothing. */
  static List<String> units(String line) {
    List<String> units = new ArrayList<>();
    boolean quoted = false;
    int from = 0;
    for (int i = 0; i < line.length(); i++) {
      char c = line.charAt(i);
      quoted ^= c == '"';
      if (c == SEPARATOR && !quoted) {
        units.add(line.substring(from, i));
        from = i + 1;
      }
    }
    units.add(line.substring(from));
    return units;
  }
}
