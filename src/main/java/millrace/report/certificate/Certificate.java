// SPDX-License-Identifier: Apache-2.0
package millrace.report.certificate;

import java.io.Writer;
import java.util.ArrayList;
import java.util.List;
import millrace.assessment.Assessment;
import millrace.evidence.RunOrigin;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.logbook.RunSummary;
import millrace.quantity.NumberText;
import millrace.report.frame.HtmlPageFrame;
import millrace.report.markup.Markup;
import millrace.report.words.OverallVerdict;
import millrace.report.words.OverdueInstruments;
import millrace.report.words.RunDays;
import millrace.report.words.RunRemarkWords;
import millrace.report.words.SurroundingsWords;

/**
 * Calibration certificate of one run, for one judgement. Its contents are those of ISO/IEC
 * 17025:2017, 7.8 (clauses from memory). The outcome comes first. Then come customer, unit, place
 * and dates, the results with U and k, conditions, method, traceability, the decision rule with its
 * risk, and the signatures. It judges nothing and uses the same words as every other page.
 * Stateless; one thread at a time per run.
 */
public final class Certificate {
  private final Markup out;
  private final CertificateHeader header;
  private final Assessment assessment;
  private final RunReader run;

  private Certificate(Markup out, CertificateHeader header, Assessment assessment, RunReader run) {
    this.out = out;
    this.header = header;
    this.assessment = assessment;
    this.run = run;
  }

  /**
   * Writes the certificate.
   *
   * @param target destination, UTF-8; stays open
   * @param header facts about laboratory and customer
   * @param assessment findings about the run
   * @param run the run
   */
  public static void write(
      Writer target, CertificateHeader header, Assessment assessment, RunReader run) {
    new Certificate(Markup.to(target), header, assessment, run).page();
  }

  private void page() {
    boolean simulated = start().origin() == RunOrigin.SIMULATED;
    String stamp = simulated ? DocumentParts.SIMULATED + ": " : "";
    String unit = "unit " + start().unit();
    String foot = stamp + "certificate " + header.number() + ", " + unit;
    String title = stamp + "calibration certificate " + header.number() + ", " + unit;
    HtmlPageFrame.openPlain(
        out, new HtmlPageFrame.Head(title, foot, simulated, "certificate"), "certificate.css");
    issuer(simulated);
    outcome();
    facts();
    new CertificateResults(out, assessment).write();
    conditions();
    method();
    CertificateTraceability.write(out, run);
    remarks();
    CertificateStatements.write(out, assessment, header);
    DocumentParts.signatures(out, header.testedBy(), header.releasedBy());
    end();
    HtmlPageFrame.close(out);
  }

  private RunStart start() {
    return assessment.run().start();
  }

  private void issuer(boolean simulated) {
    out.line().open("header").open("table", "class", "issuer").open("tr").open("td");
    DocumentParts.issuer(out, header.laboratory(), false);
    out.close().open("td", "class", "number");
    out.element("h1", "Calibration certificate");
    out.element("div", "No. " + header.number(), "class", "no");
    header.replaces().ifPresent(n -> out.element("div", "replaces certificate No. " + n));
    if (simulated) {
      out.element("span", DocumentParts.SIMULATED, "class", "stamp");
    }
    out.close().close().close().close();
  }

  private void outcome() {
    OverallVerdict verdict = OverallVerdict.of(assessment);
    out.line().open("p", "class", "outcome").element("strong", verdict.word());
    out.text(" " + verdict.sentence()).close();
  }

  private void facts() {
    out.line().open("table", "class", "facts");
    fact("Item", List.of(DocumentParts.kind(assessment), "serial number " + start().unit()));
    fact("Customer", header.customer().isEmpty() ? List.of("none named") : header.customer());
    fact("Tested", List.of(RunDays.inWords(assessment.run())));
    fact("Issued", List.of(header.issued().toString()));
    fact("Place", List.of(header.place()));
    fact("Run", List.of(assessment.run().id() + " (" + assessment.run().uuid() + ")"));
    out.close();
  }

  private void fact(String name, List<String> lines) {
    DocumentParts.fact(out, name, lines);
  }

  private void section(String heading) {
    out.line().element("h2", heading);
  }

  private void paragraph(String text) {
    out.line().element("p", text);
  }

  private void conditions() {
    section("Conditions");
    List<String> lines = new ArrayList<>(SurroundingsWords.of(run));
    lines.add(
        "results refer to "
            + NumberText.fixed(assessment.basis().referenceDegC(), 1)
            + " \u00b0C where no temperature is given");
    paragraph("As read: " + String.join("; ", lines) + ".");
  }

  private void method() {
    section("Method");
    RunSummary summary = assessment.run();
    boolean imported = start().origin() == RunOrigin.IMPORTED;
    paragraph(
        (imported ? "Readings taken elsewhere, from the file \u2018" : "Sequence \u2018")
            + start().title()
            + "\u2019, "
            + NumberText.counted(run.readingCount(), "reading")
            + "; evaluated by Millrace "
            + summary.start().millrace()
            + " as its page of methods says, which the annex cites for each result.");
  }

  private void remarks() {
    List<String> said = new ArrayList<>(OverdueInstruments.of(run));
    said.addAll(RunRemarkWords.of(assessment, run));
    section("Deviations and remarks");
    if (said.isEmpty()) {
      paragraph("None.");
      return;
    }
    out.line().open("ul");
    said.forEach(s -> out.element("li", s));
    out.close();
  }

  private void end() {
    DocumentParts.digest(out, assessment, run);
    out.line().element("p", "End of certificate " + header.number(), "class", "end");
  }
}
