package millrace.report;

import millrace.evidence.Conformity;
import millrace.report.markup.Markup;

/** Words that are set apart, so that they are found at a glance, in grey too. */
final class Words {
  private Words() {}

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
