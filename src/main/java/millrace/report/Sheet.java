package millrace.report;

import java.time.Instant;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import millrace.assessment.Assessment;
import millrace.evidence.Origin;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.report.markup.Markup;
import millrace.report.plot.Chart;

/**
 * A report being written: the run it is about and the page it goes to. What was simulated is
 * stamped here, so that no section has to think of it.
 */
final class Sheet {
  /** The word that stands on everything that was simulated. */
  static final String SIMULATED = "SIMULATED";

  private static final DateTimeFormatter STAMP =
      DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm:ss xxx", Locale.ROOT);

  private final Markup out;
  private final Assessment assessment;
  private final RunReader run;
  private int charts;

  Sheet(Markup out, Assessment assessment, RunReader run) {
    this.out = out;
    this.assessment = assessment;
    this.run = run;
  }

  Markup out() {
    return out;
  }

  Assessment assessment() {
    return assessment;
  }

  RunReader run() {
    return run;
  }

  RunStart start() {
    return assessment.run().start();
  }

  boolean simulated() {
    return start().origin() == Origin.SIMULATED;
  }

  Optional<String> stamp() {
    return simulated() ? Optional.of(SIMULATED) : Optional.empty();
  }

  /** An instant in the local time of the bench. */
  String local(Instant instant) {
    return STAMP.format(instant.atOffset(start().offset()));
  }

  /** Opens a section with its heading. */
  Sheet section(String heading, String kind) {
    out.line().open("section", "class", kind).open("h2").text(heading);
    stamp().ifPresent(s -> out.text(" ").element("span", s, "class", "stamp"));
    out.close();
    return this;
  }

  Sheet heading(String text) {
    out.line().element("h3", text);
    return this;
  }

  Sheet paragraph(String text) {
    out.line().element("p", text);
    return this;
  }

  /** A list, left out where it would be empty. */
  Sheet list(List<String> sentences) {
    if (!sentences.isEmpty()) {
      out.line().open("ul");
      sentences.forEach(s -> out.element("li", s));
      out.close();
    }
    return this;
  }

  /** Places a plot. */
  Sheet chart(Chart chart) {
    boolean half = chart.size().equals(Chart.Size.HALF);
    out.line().open("figure", "class", half ? "half" : "page");
    charts++;
    chart.write(out, "plot" + charts);
    out.close();
    return this;
  }

  void end() {
    out.close();
  }
}
