// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.io.StringWriter;
import java.io.Writer;
import java.nio.file.Path;
import java.util.Optional;
import millrace.assessment.Assessment;
import millrace.logbook.RunReader;
import millrace.report.frame.HtmlPageFrame;
import millrace.report.markup.Markup;

/**
 * Report of one run: a single HTML file that needs no network and no script, prints on A4, and is
 * readable in greyscale and in dark mode. The first page gives the outcome, the reason and the next
 * steps. Then come the limits, the worst first, the charts, and the evidence: all results,
 * conditions, instruments, incidents, budgets, points, cited methods, digest. A screen folds long
 * parts; paper shows all of them.
 *
 * <p>The same assessment and run give the same file, byte by byte. Stateless; one thread at a time
 * per run.
 */
public final class Report {
  private Report() {}

  /**
   * Writes the report of a run. The file is replaced only by a complete one; until then its
   * previous content stays.
   *
   * @param file destination; the folder must exist
   * @param assessment findings about the run
   * @param run the run, for its instruments, conditions, incidents and files
   * @throws millrace.fault.BadInputException if the file cannot be written
   */
  public static void write(Path file, Assessment assessment, RunReader run) {
    HtmlPageFrame.write(file, writer -> write(writer, assessment, run, Optional.empty()));
  }

  /**
   * Writes the report of a run.
   *
   * @param target destination, UTF-8; stays open
   * @param assessment findings about the run
   * @param run the run
   * @param annexTo number of the certificate that this report is the annex of; empty for none
   */
  public static void write(
      Writer target, Assessment assessment, RunReader run, Optional<String> annexTo) {
    // The contents are on the first page, but are known only after the rest is written.
    StringWriter rest = new StringWriter();
    Markup sections = Markup.to(rest);
    ReportContext sheet = new ReportContext(sections, assessment, run);
    sections(sheet);
    sections.end();

    Markup out = Markup.to(target);
    String simulated = sheet.simulated() ? ReportContext.SIMULATED + ": " : "";
    String unit = "unit " + sheet.start().unit();
    String annex = annexTo.map(n -> "annex to certificate " + n + ", ").orElse("");
    String foot = simulated + annex + unit + ", run " + assessment.run().id();
    HtmlPageFrame.open(
        out,
        new HtmlPageFrame.Head(
            simulated + annex + "test report of " + unit, foot, sheet.simulated(), "report"));
    SummarySection.write(sheet.onto(out), annexTo);
    out.include(rest.getBuffer());
    HtmlPageFrame.close(out);
  }

  private static void sections(ReportContext sheet) {
    LimitsSection.write(sheet);
    JudgedAgainSection.write(sheet);
    CausesSection.write(sheet);
    DesignSection.write(sheet);
    RangeSections.write(sheet);
    TimeSeriesSection.write(sheet);
    SoakSection.write(sheet);
    ResultsSection.write(sheet);
    ConditionsSection.write(sheet);
    InstrumentsSection.write(sheet);
    IncidentsSection.write(sheet);
    SummarySection.notes(sheet);
    BudgetSection.write(sheet);
    PointsSection.write(sheet);
    MethodsSection.write(sheet);
    DataOriginSection.write(sheet);
  }
}
