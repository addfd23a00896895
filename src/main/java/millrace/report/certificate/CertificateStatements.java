// SPDX-License-Identifier: Apache-2.0
package millrace.report.certificate;

import java.util.List;
import java.util.OptionalDouble;
import millrace.assessment.Assessment;
import millrace.evidence.Conformity;
import millrace.evidence.Result;
import millrace.quantity.NumberText;
import millrace.report.markup.Markup;
import millrace.report.words.BoxJudgementWords;
import millrace.report.words.DecisionRuleWords;

/**
 * Statements of a certificate: the meaning of U, the decision rule, its risk, and the terms of use.
 */
final class CertificateStatements {
  private CertificateStatements() {}

  static void write(Markup out, Assessment assessment, CertificateHeader header) {
    out.line().element("h2", "Uncertainty");
    out.element("p", uncertainty(assessment));
    List<Result> judged =
        assessment.results().stream().filter(r -> r.judgement().isPresent()).toList();
    if (!judged.isEmpty()) {
      out.line().element("h2", "Decision rule and risk");
      out.element(
          "p",
          "Statements of conformity concern the results with a limit above, and those limits. "
              + DecisionRuleWords.of(judged)
              + risk(judged));
    }
    out.line().element("h2", "Use of this certificate");
    out.element(
        "p",
        "The results relate only to the item tested, in the condition in which it was tested. This"
            + " certificate must not be reproduced except in full without the written consent of"
            + " the laboratory."
            + (header.laboratory().accreditation().isPresent()
                ? ""
                : " It claims no accreditation."));
    header.laboratory().statement().ifPresent(s -> out.line().element("p", s));
  }

  private static String uncertainty(Assessment assessment) {
    return "U is the expanded uncertainty: the standard uncertainty multiplied by the coverage"
        + " factor k of its row, such that the interval of value \u00b1 U covers the value of the"
        + " measurand with a probability of "
        + NumberText.significant(100 * assessment.basis().coverage(), 4)
        + " % (JCGM 100:2008). U is stated with two significant digits and in the unit of the"
        + " value.";
  }

  /** The largest probability that a verdict is wrong, for passes and for fails. */
  private static String risk(List<Result> judged) {
    OptionalDouble passed = largest(judged, false);
    OptionalDouble failed = largest(judged, true);
    StringBuilder text = new StringBuilder();
    passed.ifPresent(
        p ->
            text.append(
                    " The probability that a result stated as passed lies outside its limit is ")
                .append(atMost(p)));
    failed.ifPresent(
        p ->
            text.append(passed.isPresent() ? "; that" : " The probability that")
                .append(" a result stated as failed lies inside its limit is ")
                .append(atMost(p)));
    boolean none = passed.isEmpty() && failed.isEmpty();
    return none ? " The risk of a wrong decision is not known." : text + " (JCGM 106:2012, 9.3).";
  }

  private static String atMost(double p) {
    String percent = BoxJudgementWords.percent(p);
    return percent.startsWith("less") ? percent : "at most " + percent;
  }

  private static OptionalDouble largest(List<Result> judged, boolean failed) {
    return judged.stream()
        .map(r -> r.judgement().orElseThrow())
        .filter(j -> j.conformity() != Conformity.NOT_EVALUATED && j.failed() == failed)
        .filter(j -> j.risk().specific().isPresent())
        .mapToDouble(j -> j.risk().specific().getAsDouble())
        .max();
  }
}
