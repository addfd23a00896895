// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.time.Instant;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;
import millrace.analysis.causes.ErrorCauseDiagnosis;
import millrace.assessment.Assessment;
import millrace.assessment.RunCauseDiagnosis;
import millrace.datasheet.Datasheet;
import millrace.evidence.Result;
import millrace.evidence.RunOrigin;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.report.chart.SmallMultiples;
import millrace.report.frame.HighlightedWords;
import millrace.report.markup.Markup;
import millrace.report.plot.Chart;
import millrace.report.plot.SharedPlotLegend;

/**
 * State of a report during writing: its run, its page, and its anchors, so that its parts can link
 * to each other.
 */
public final class ReportContext {
  /** The mark on everything simulated. */
  public static final String SIMULATED = "SIMULATED";

  private static final DateTimeFormatter STAMP =
      DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm:ss xxx", Locale.ROOT);

  private final Markup out;
  private final Assessment assessment;
  private final RunReader run;
  private final Optional<ErrorCauseDiagnosis> diagnosis;
  private final List<Entry> contents;
  private final Set<String> names;
  private final IdentityHashMap<Result, Integer> numbers = new IdentityHashMap<>();
  private Optional<RunPointSummary> points = Optional.empty();
  private Optional<ReportAnchors> anchors = Optional.empty();
  private int charts;

  /** Prefix of the names of its charts; not empty if it is part of another page. */
  private String piece = "";

  /**
   * An entry of the table of contents.
   *
   * @param heading heading of the section
   * @param name anchor of the section
   */
  record Entry(String heading, String name) {}

  ReportContext(Markup out, Assessment assessment, RunReader run) {
    this(
        out, assessment, run, RunCauseDiagnosis.of(assessment), new ArrayList<>(), new HashSet<>());
  }

  private ReportContext(
      Markup out,
      Assessment assessment,
      RunReader run,
      Optional<ErrorCauseDiagnosis> diagnosis,
      List<Entry> contents,
      Set<String> names) {
    this.out = out;
    this.assessment = assessment;
    this.run = run;
    this.diagnosis = diagnosis;
    this.contents = contents;
    this.names = names;
    assessment.results().forEach(r -> numbers.put(r, numbers.size() + 1));
  }

  /**
   * The same report with another destination, for example for a part that comes before the rest.
   */
  ReportContext onto(Markup other) {
    ReportContext same = new ReportContext(other, assessment, run, diagnosis, contents, names);
    same.points = points;
    same.anchors = anchors;
    return same;
  }

  /** A single part of a report for another page; it has no other part to link to. */
  static ReportContext piece(String name, Markup out, Assessment assessment, RunReader run) {
    ReportContext alone = new ReportContext(out, assessment, run);
    alone.piece = name + "-";
    return alone;
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

  /** The points of the run, walked over once. */
  RunPointSummary points() {
    RunPointSummary all = points.orElseGet(() -> new RunPointSummary(run, assessment));
    points = Optional.of(all);
    return all;
  }

  /** The anchors of the parts of the report. */
  ReportAnchors anchors() {
    ReportAnchors all = anchors.orElseGet(() -> new ReportAnchors(assessment, points().groups()));
    anchors = Optional.of(all);
    return all;
  }

  /** The diagnosis of error causes; empty if no range lists its parts. */
  Optional<ErrorCauseDiagnosis> diagnosis() {
    return diagnosis;
  }

  RunStart start() {
    return assessment.run().start();
  }

  boolean simulated() {
    return start().origin() == RunOrigin.SIMULATED;
  }

  Optional<String> stamp() {
    return simulated() ? Optional.of(SIMULATED) : Optional.empty();
  }

  /** The sections written so far. */
  List<Entry> contents() {
    return List.copyOf(contents);
  }

  /** The number of a result in the order of the assessment, from 1. */
  int number(Result result) {
    return numbers.get(result);
  }

  /** Records that the report has a part of this name. */
  String named(String name) {
    names.add(name);
    return name;
  }

  /** Whether the part of this name was written. */
  boolean has(String name) {
    return names.contains(name);
  }

  /** An instant in the local time of the bench. */
  String local(Instant instant) {
    return STAMP.format(instant.atOffset(start().offset()));
  }

  /** The time of the readings; for an import, the time stated in its file only. */
  String measured() {
    return start().measuredAt().map(this::local).orElse("on a day that the file does not state");
  }

  /** The title of the page. */
  void title(String text) {
    out.open("h1").text(text);
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
      out.open("div").element("dt", name).open("dd");
      HighlightedWords.whole(out, value);
      out.close().close();
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

  /** Opens a section with its heading; its kind is also its anchor. */
  ReportContext section(String heading, String kind) {
    contents.add(new Entry(heading, named(kind)));
    out.line().open("section", "class", kind, "id", kind).element("h2", heading);
    return this;
  }

  /**
   * Opens a section that is folded on a screen and open on paper; it needs no script. Close it with
   * {@link #endFolded}.
   *
   * @param what content of the fold in words, such as {@code 12 results}
   */
  ReportContext folded(String heading, String kind, String what) {
    section(heading, kind);
    out.line().open("details").element("summary", "Show " + what);
    out.line().open("div", "class", "folded");
    return this;
  }

  void endFolded() {
    out.close().close().close();
  }

  ReportContext heading(String text) {
    out.line().element("h3", text);
    return this;
  }

  ReportContext paragraph(String text) {
    out.line().element("p", text);
    return this;
  }

  /** Writes a list; writes nothing if it is empty. */
  ReportContext list(List<String> sentences) {
    if (!sentences.isEmpty()) {
      out.line().open("ul");
      sentences.forEach(s -> out.element("li", s));
      out.close();
    }
    return this;
  }

  /** Writes a link to a place of the report. */
  void link(String words, String name) {
    out.element("a", words, "href", "#" + name);
  }

  /** Writes a plot. */
  ReportContext chart(Chart chart) {
    return chart(chart, "", caption -> {});
  }

  /**
   * Writes a plot with a caption.
   *
   * @param name anchor for links from the results; empty for none
   * @param caption writer of the caption; writes nothing for none
   */
  ReportContext chart(Chart chart, String name, Consumer<Markup> caption) {
    boolean half = chart.size().widthPx() < Chart.Size.PAGE.widthPx();
    charts++;
    out.line().open("figure", "class", half ? "half" : "page");
    out.open("div", "id", named(piece + (name.isEmpty() ? "figure-" + charts : name)));
    chart.write(out, piece + "plot" + charts);
    out.close().open("figcaption");
    caption.accept(out);
    out.close().close();
    return this;
  }

  /** Writes small plots side by side, with one heading and one key. */
  void multiples(SmallMultiples all) {
    out.line().open("div", "class", "multiples");
    heading(all.heading());
    if (!all.intro().isEmpty()) {
      paragraph(all.intro());
    }
    SharedPlotLegend.write(out, all.panels().stream().map(SmallMultiples.Panel::chart).toList());
    boolean two = all.panels().get(0).chart().size().equals(Chart.Size.PAIR);
    out.line().open("div", "class", two ? "grid two" : "grid");
    all.panels().forEach(p -> chart(p.chart(), p.name(), o -> caption(p)));
    out.close().close();
  }

  private void caption(SmallMultiples.Panel panel) {
    if (!panel.caption().isEmpty()) {
      out.text(panel.caption() + ".");
    }
    if (!panel.results().isEmpty() && piece.isEmpty()) {
      out.text(" ").element("a", "Results", "href", "#" + panel.results(), "class", "go");
    }
  }

  void end() {
    out.close();
  }
}
