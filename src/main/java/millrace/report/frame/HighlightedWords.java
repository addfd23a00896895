// SPDX-License-Identifier: Apache-2.0
package millrace.report.frame;

import millrace.evidence.Conformity;
import millrace.report.markup.Markup;

/** Highlighted words that catch the eye, in greyscale as well. */
public final class HighlightedWords {
  /** Longest name that stays unbroken. */
  private static final int LONGEST = 30;

  private HighlightedWords() {}

  /** Writes text without breaks at the hyphens of names such as a serial number or a file. */
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

  /** Writes a conformity in words, in a box that shows its meaning. */
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
