// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.time.Instant;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import millrace.analysis.causes.Diagnosis;
import millrace.assessment.Assessment;
import millrace.assessment.CausesOf;
import millrace.datasheet.Datasheet;
import millrace.evidence.Origin;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.report.markup.Markup;
import millrace.report.plot.Chart;

/**
 * A report being written: the run it is about and the page it goes to. What was simulated is
 * stamped here, so that no section has to think of it.
 */
public final class Sheet {
  /** The word that stands on everything that was simulated. */
  public static final String SIMULATED = "SIMULATED";

  private static final DateTimeFormatter STAMP =
      DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm:ss xxx", Locale.ROOT);

  private final Markup out;
  private final Assessment assessment;
  private final RunReader run;
  private final Optional<Diagnosis> diagnosis;
  private int charts;
  private int folds;

  Sheet(Markup out, Assessment assessment, RunReader run) {
    this.out = out;
    this.assessment = assessment;
    this.run = run;
    this.diagnosis = CausesOf.of(assessment);
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

  /** Where the errors come from; empty where no range says what it is made from. */
  Optional<Diagnosis> diagnosis() {
    return diagnosis;
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

  /** When the readings were taken: of imported ones what their file says, and no other day. */
  String measured() {
    return start().measuredAt().map(this::local).orElse("on a day that the file does not state");
  }

  /** The title of the page. */
  void title(String text) {
    stamped("h1", text);
  }

  private void stamped(String element, String text) {
    out.open(element).text(text);
    stamp().ifPresent(s -> out.text(" ").element("span", s, "class", "stamp"));
    out.close();
  }

  /** Opens the list of facts below the title. */
  Facts facts() {
    out.line().open("dl", "class", "facts");
    return new Facts();
  }

  /** Facts about the run, name and value. */
  final class Facts {
    Facts fact(String name, String value) {
      out.open("div").element("dt", name).element("dd", value).close();
      return this;
    }

    Facts kind() {
      return fact(
          "Kind of unit",
          assessment.basis().datasheet().map(Datasheet::name).orElse("no datasheet"));
    }

    Facts run() {
      return fact("Run", assessment.run().id() + " (" + assessment.run().uuid() + ")");
    }

    void end() {
      out.close();
    }
  }

  /** Opens a section with its heading. */
  Sheet section(String heading, String kind) {
    out.line().open("section", "class", kind);
    stamped("h2", heading);
    return this;
  }

  /**
   * Opens a section that a screen shows only when asked and paper always shows; it needs no script.
   * Close it with {@link #endFolded}.
   *
   * @param what is folded, in words, such as {@code 12 results}
   */
  Sheet folded(String heading, String kind, String what) {
    section(heading, kind);
    folds++;
    String id = "fold" + folds;
    out.line().lone("input", "type", "checkbox", "class", "fold", "id", id);
    out.element("label", "Show " + what, "for", id).open("div", "class", "folded");
    return this;
  }

  void endFolded() {
    out.close().close();
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
