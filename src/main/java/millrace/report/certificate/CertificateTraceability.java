// SPDX-License-Identifier: Apache-2.0
package millrace.report.certificate;

import java.util.List;
import java.util.stream.Collectors;
import millrace.evidence.RunOrigin;
import millrace.logbook.InstrumentEntry;
import millrace.logbook.RunReader;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.page.BatchRecordSection;

/** Traceability of the results. It states no more than the run recorded. */
final class CertificateTraceability {
  private CertificateTraceability() {}

  static void write(Markup out, RunReader run) {
    out.line().element("h2", "Traceability");
    List<InstrumentEntry> used = run.instruments();
    List<InstrumentEntry> certified =
        used.stream().filter(i -> i.certificate().isPresent()).toList();
    if (run.summary().start().origin() == RunOrigin.SIMULATED) {
      out.element("p", "None: no real instrument took part, and no certificate stands behind it.");
      return;
    }
    if (certified.isEmpty()) {
      out.element(
          "p",
          used.isEmpty()
              ? "The readings were taken elsewhere; their file states no instruments, so no"
                  + " traceability is claimed."
              : "None of the instruments has a certificate on file, so no traceability is"
                  + " claimed.");
    } else {
      table(out, certified);
    }
    String others =
        used.stream()
            .filter(i -> i.certificate().isEmpty())
            .map(i -> i.name() + " (" + i.roles() + ")")
            .collect(Collectors.joining(", "));
    if (!others.isEmpty() && !certified.isEmpty()) {
      out.line().element("p", "Without a certificate: " + others + ".");
    }
  }

  private static void table(Markup out, List<InstrumentEntry> certified) {
    out.element(
        "p",
        "Results are traceable to the SI as far as the certificates of these instruments are.");
    HtmlTable table =
        HtmlTable.open(
            out,
            "",
            HtmlTable.Column.words("Does"),
            HtmlTable.Column.words("Identity, as it replied"),
            HtmlTable.Column.words("Certificate"),
            HtmlTable.Column.words("Calibrated"),
            HtmlTable.Column.words("Due"));
    for (InstrumentEntry i : certified) {
      BatchRecordSection.certified(table, BatchRecordSection.cells(i));
      table.end();
    }
    table.close();
  }
}
