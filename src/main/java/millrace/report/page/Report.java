// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.io.Writer;
import java.nio.file.Path;
import millrace.assessment.Assessment;
import millrace.logbook.RunReader;
import millrace.report.markup.Markup;

/**
 * The report of one run: a single HTML file that needs no network and no script, prints on A4, and
 * reads in grey. The first page says the outcome, what came nearest to its limit and where to look;
 * then come the pictures, then everything that a reader needs to doubt it: all results, conditions,
 * instruments, incidents, budgets, digest. A screen folds what is long, paper shows all.
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
    Page.write(file, writer -> write(writer, assessment, run));
  }

  /**
   * Writes the report of a run.
   *
   * @param target where to, UTF-8; stays open
   * @param assessment what was found about the run
   * @param run the run
   */
  static void write(Writer target, Assessment assessment, RunReader run) {
    Markup out = Markup.to(target);
    Sheet sheet = new Sheet(out, assessment, run);
    String simulated = sheet.simulated() ? Sheet.SIMULATED + ": " : "";
    Page.open(out, simulated + "test report of unit " + sheet.start().unit(), sheet.simulated());
    SummarySection.write(sheet);
    LimitsSection.write(sheet);
    JudgedAgainSection.write(sheet);
    CausesSection.write(sheet);
    DesignSection.write(sheet);
    RangeSections.write(sheet);
    OverTimeSection.write(sheet);
    SoakSection.write(sheet);
    ResultsSection.write(sheet);
    ConditionsSection.write(sheet);
    InstrumentsSection.write(sheet);
    IncidentsSection.write(sheet);
    BudgetSection.write(sheet);
    SummarySection.notes(sheet);
    CautionSection.write(sheet);
    OriginSection.write(sheet);
    Page.close(out);
  }
}
