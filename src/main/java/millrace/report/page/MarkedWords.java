// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import millrace.evidence.Conformity;
import millrace.evidence.Result;
import millrace.report.markup.Markup;
import millrace.report.plot.Symbols;
import millrace.report.words.AtWords;

/** Words that are set apart, so that they are found at a glance, in grey too. */
final class MarkedWords {
  private MarkedWords() {}

  /** A quantity with the conditions that it is stated at. */
  static void quantity(Markup out, Result result) {
    out.text(result.quantity().inWords());
    String at = Symbols.of(AtWords.of(result.at()));
    if (!at.isEmpty()) {
      out.text(" ").element("span", at, "class", "at");
    }
  }

  /** A conformity in words, boxed by what it means. */
  static void conformity(Markup out, Conformity conformity) {
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
