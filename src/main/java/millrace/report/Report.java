package millrace.report;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Objects;
import millrace.assessment.Assessment;
import millrace.logbook.RunReader;
import millrace.report.markup.Markup;

/**
 * The report of one run: a single HTML file that needs no network and no script, prints on A4, and
 * reads in grey. The outcome comes first, then each range in pictures, then everything that a
 * reader needs to doubt it: all results, budgets, conditions, instruments, incidents, digest.
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
    WholeFile.write(file, writer -> write(writer, assessment, run));
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
    out.documentType().open("html", "lang", "en");
    head(sheet, "test report", style(sheet.simulated()));
    out.line().open("body").open("main");
    banner(sheet);
    SummarySection.write(sheet);
    JudgedAgainSection.write(sheet);
    RangeSections.write(sheet);
    DesignSection.write(sheet);
    CausesSection.write(sheet);
    SoakSection.write(sheet);
    ResultsSection.write(sheet);
    ConditionsSection.write(sheet);
    InstrumentsSection.write(sheet);
    IncidentsSection.write(sheet);
    BudgetSection.write(sheet);
    CautionSection.write(sheet);
    OriginSection.write(sheet);
    out.close().close().close();
    out.end();
  }

  /** The head of a page about a unit. */
  static void head(Sheet sheet, String what, String style) {
    String unit = sheet.start().unit();
    String simulated = sheet.simulated() ? Sheet.SIMULATED + ": " : "";
    sheet
        .out()
        .line()
        .open("head")
        .lone("meta", "charset", "utf-8")
        .lone("meta", "name", "viewport", "content", "width=device-width, initial-scale=1")
        .element("title", simulated + what + " of unit " + unit)
        .element("style", style)
        .close();
  }

  /** Print repeats what is fixed on every page, so the banner needs nothing of the printer. */
  static void banner(Sheet sheet) {
    if (sheet.simulated()) {
      sheet
          .out()
          .line()
          .element(
              "div",
              "SIMULATED: no real unit, no real instruments; these numbers say nothing of any"
                  + " hardware",
              "class",
              "banner",
              "role",
              "note");
    }
  }

  static String style(boolean simulated) {
    return resource("report.css") + (simulated ? resource("simulated.css") : "");
  }

  /** Style sheets hold none of the characters that HTML and XML read differently. */
  static String resource(String name) {
    try (InputStream in = Report.class.getResourceAsStream(name)) {
      byte[] bytes = Objects.requireNonNull(in, name).readAllBytes();
      return new String(bytes, StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
