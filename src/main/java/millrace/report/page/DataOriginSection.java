// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.Optional;
import millrace.logbook.RunSummary;
import millrace.report.frame.HtmlTable;

/** Origin of the numbers: the files of the run and the digest of its data. */
final class DataOriginSection {
  private DataOriginSection() {}

  static void write(ReportContext sheet) {
    sheet.section("Digest and files", "origin");
    RunSummary run = sheet.assessment().run();
    Optional<String> stored = run.digest();
    sheet.out().line().open("p");
    sheet
        .out()
        .text(
            stored.isPresent()
                ? "SHA-256 over unit, people, instruments, files, points, readings and incidents,"
                    + " stored when the run ended: "
                : "SHA-256 over unit, people, instruments, files, points, readings and incidents of"
                    + " a run that has not ended, as they stand: ")
        .element("code", stored.orElseGet(() -> sheet.run().digest()))
        .close();
    sheet
        .run()
        .seal()
        .ifPresent(
            seal ->
                sheet
                    .out()
                    .line()
                    .open("p")
                    .text("Seal, the same with every judging and note up to this page: ")
                    .element("code", seal)
                    .close());
    sheet.paragraph(
        "\u2018millrace show "
            + run.id()
            + " --verify --digest\u2019 with either of them holds the logbook against this page;"
            + " the UUID of the run is "
            + run.uuid()
            + ". They tell of a change to whoever has this page; where it comes from only a"
            + " signature proves. This report can be made again from the logbook alone.");
    ReportContext.Facts facts = sheet.facts();
    JudgementFileList.facts(sheet, facts, true);
    facts.end();
    files(sheet);
    sheet.end();
  }

  private static void files(ReportContext sheet) {
    HtmlTable table =
        HtmlTable.open(
            sheet.out(),
            "Input files, kept whole in the logbook",
            HtmlTable.Column.words("For"),
            HtmlTable.Column.words("Name"),
            HtmlTable.Column.figures("Bytes"),
            HtmlTable.Column.words("SHA-256"));
    sheet
        .run()
        .files()
        .forEach(
            f ->
                table
                    .begin()
                    .cell(f.role().text())
                    .cell(f.name())
                    .figures(Long.toString(f.bytes()))
                    .cell(out -> out.element("code", f.sha256()))
                    .end());
    table.close();
  }
}
