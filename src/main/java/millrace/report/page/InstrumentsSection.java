// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import millrace.logbook.InstrumentEntry;
import millrace.logbook.InstrumentEntry.Certificate;
import millrace.report.frame.HtmlTable;
import millrace.report.words.OverdueInstruments;

/** Instruments of the run, each with its identity and its calibration. */
final class InstrumentsSection {
  private InstrumentsSection() {}

  static void write(ReportContext sheet) {
    List<InstrumentEntry> instruments = sheet.run().instruments();
    sheet.section("Instruments", "instruments");
    if (instruments.isEmpty()) {
      sheet.paragraph("The run names no instruments.").end();
      return;
    }
    HtmlTable table =
        HtmlTable.open(
            sheet.out(),
            "As the run found them",
            HtmlTable.Column.words("Name"),
            HtmlTable.Column.words("Does"),
            HtmlTable.Column.words("Identity, as it replied"),
            HtmlTable.Column.words("Serial number"),
            HtmlTable.Column.words("Certificate"),
            HtmlTable.Column.words("Calibrated"),
            HtmlTable.Column.words("Calibration due"),
            HtmlTable.Column.words("Driver and address"));
    instruments.forEach(i -> row(sheet, table, i));
    table.close();
    sheet
        .run()
        .setUp()
        .ifPresent(
            s ->
                sheet.paragraph(
                    "Set-up: fixture "
                        + s.fixture()
                        + ", cables "
                        + s.cables()
                        + ". "
                        + s.remark()));
    sheet.end();
  }

  private static void row(ReportContext sheet, HtmlTable table, InstrumentEntry i) {
    Optional<Certificate> certificate = i.certificate();
    table
        .begin()
        .head(i.name())
        .cell(i.roles())
        .cell(i.identity().isBlank() ? "none" : i.identity().strip())
        .cell(i.serial().orElse("not stated"))
        .cell(certificate.map(c -> c.laboratory() + ", " + c.number()).orElse("none"))
        .cell(certificate.flatMap(Certificate::calibratedOn).map(LocalDate::toString).orElse(""))
        .cell(due(sheet, i))
        .cell(i.driver() + ", " + i.address())
        .end();
  }

  private static String due(ReportContext sheet, InstrumentEntry i) {
    return i.certificate()
        .flatMap(Certificate::dueOn)
        .map(
            d ->
                d
                    + (OverdueInstruments.late(sheet.run(), d)
                        ? ", OVERDUE at the time of the run"
                        : ""))
        .orElse("not stated");
  }
}
