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
 * The report of one run: a single HTML file that needs no network and no script, prints on A4, and
 * reads in grey and in the dark. The first page says the outcome, why, and what to do; then come
 * the limits, the worst first, the pictures, and everything that a reader needs to doubt it: all
 * results, conditions, instruments, incidents, budgets, points, the methods cited, digest. A screen
 * folds what is long, paper shows all.
 *
 * <p>The same assessment and run give the same file, byte by byte. Stateless; one thread at a time
 * per run.
 */
public final class Report {
  private Report() {}

  /**
   * Writes the report of a run. The file is either whole or not there; what stood there before
   * stays until it is.
   *
   * @param file where to; the folder must exist
   * @param assessment what was found about the run
   * @param run the run, for its instruments, conditions, incidents and files
   * @throws millrace.fault.BadInputException if the file cannot be written
   */
  public static void write(Path file, Assessment assessment, RunReader run) {
    HtmlPageFrame.write(file, writer -> write(writer, assessment, run, Optional.empty()));
  }

  /**
   * Writes the report of a run.
   *
   * @param target where to, UTF-8; stays open
   * @param assessment what was found about the run
   * @param run the run
   * @param annexTo the number of the certificate that it is the annex of; empty for none
   */
  public static void write(
      Writer target, Assessment assessment, RunReader run, Optional<String> annexTo) {
    // The contents stand on the first page and are known when all else is written.
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
