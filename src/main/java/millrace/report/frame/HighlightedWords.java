// SPDX-License-Identifier: Apache-2.0
package millrace.report.frame;

import millrace.evidence.Conformity;
import millrace.report.markup.Markup;

/** Words that are set apart, so that they are found at a glance, in grey too. */
public final class HighlightedWords {
  /** A longer name than this is broken where it must be. */
  private static final int LONGEST = 30;

  private HighlightedWords() {}

  /** Text whose names, such as a serial number or a file, are not broken at their hyphens. */
  public static void whole(Markup out, String text) {
    String between = "";
    for (String word : text.split(" ", -1)) {
      out.text(between);
      between = " ";
      if (word.indexOf('-') >= 0 && word.length() <= LONGEST) {
        out.element("span", word, "class", "short");
      } else {
        out.text(word);
      }
    }
  }

  /** A conformity in words, boxed by what it means. */
  public static void conformity(Markup out, Conformity conformity) {
    String kind =
        switch (conformity) {
          case PASS -> "pass";
          case FAIL -> "fail";
          case CONDITIONAL_PASS, CONDITIONAL_FAIL -> "conditional";
          case NOT_EVALUATED -> "open";
        };
    out.element("span", conformity.text(), "class", "conformity " + kind);
  }
}
