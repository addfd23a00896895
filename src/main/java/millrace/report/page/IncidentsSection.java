// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.logbook.PlanChange;
import millrace.logbook.Remark;
import millrace.quantity.NumberText;
import millrace.report.frame.HtmlTable;
import millrace.report.words.PointWords;

/** Events of the run: incidents, incomplete points, remarks added later. */
final class IncidentsSection {
  /**
   * Most incidents listed; a night with a loose plug has thousands, and the logbook keeps them all.
   */
  private static final int MOST = 400;

  private final ReportContext sheet;

  private IncidentsSection(ReportContext sheet) {
    this.sheet = sheet;
  }

  static void write(ReportContext sheet) {
    sheet.folded("Incidents", "incidents", "what was noted beside the readings");
    IncidentsSection section = new IncidentsSection(sheet);
    section.planChanges();
    section.incidents();
    section.points();
    section.remarks();
    sheet.endFolded();
  }

  private void planChanges() {
    List<PlanChange> changes = sheet.run().planChanges();
    if (changes.isEmpty()) {
      return;
    }
    HtmlTable table =
        HtmlTable.open(
            sheet.out(),
            "Changes of the plan while it ran",
            HtmlTable.Column.figures("Time in the run"),
            HtmlTable.Column.words("Kind"),
            HtmlTable.Column.words("What was changed"),
            HtmlTable.Column.words("Why"),
            HtmlTable.Column.words("By"));
    for (PlanChange c : changes) {
      table
          .begin()
          .figures(clock(c.elapsed()))
          .cell(c.kind().text())
          .cell(c.words())
          .cell(c.reason())
          .cell(c.who())
          .end();
    }
    table.close();
  }

  private void incidents() {
    List<Incident> all = sheet.run().incidents();
    if (all.isEmpty()) {
      sheet.paragraph("Nothing was noted beside the readings.");
      return;
    }
    sheet.paragraph(counts(all));
    HtmlTable table =
        HtmlTable.open(
            sheet.out(),
            "In the order of happening",
            HtmlTable.Column.figures("Time in the run"),
            HtmlTable.Column.words("Kind"),
            HtmlTable.Column.words("What happened"),
            HtmlTable.Column.words("Point"));
    all.stream().limit(MOST).forEach(i -> row(table, i));
    table.close();
    if (all.size() > MOST) {
      sheet.paragraph(
          "And " + (all.size() - MOST) + " more, which the logbook keeps: millrace show.");
    }
  }

  private static String counts(List<Incident> all) {
    return all.stream()
        .collect(Collectors.groupingBy(Incident::kind, Collectors.counting()))
        .entrySet()
        .stream()
        .sorted(Map.Entry.comparingByKey())
        .map(e -> kind(e.getKey()) + ": " + e.getValue())
        .collect(Collectors.joining(", ", "", "."));
  }

  private static String kind(IncidentKind kind) {
    return kind.text();
  }

  private static void row(HtmlTable table, Incident i) {
    table
        .begin()
        .figures(clock(i.elapsed()))
        .cell(kind(i.kind()))
        .cell(i.text())
        .cell(i.pointKey().orElse(""))
        .end();
  }

  /** Elapsed time as hours, minutes and seconds. */
  static String clock(Duration span) {
    return NumberText.format(
        "%d:%02d:%02d", span.toHours(), span.toMinutesPart(), span.toSecondsPart());
  }

  private void points() {
    RunPointSummary points = sheet.points();
    if (points.fallenCount() == 0) {
      sheet.paragraph("No point was flagged or skipped.");
      return;
    }
    HtmlTable table =
        HtmlTable.open(
            sheet.out(),
            "Points that are flagged or skipped",
            HtmlTable.Column.words("Point"),
            HtmlTable.Column.words("Key"),
            HtmlTable.Column.words("State"),
            HtmlTable.Column.words("Why"));
    points
        .fallen()
        .forEach(p -> table.row(p.number().text(), p.key(), p.state().text(), p.reason()));
    table.close();
    long more = points.fallenCount() - points.fallen().size();
    if (more > 0) {
      sheet.paragraph("And " + more + " more, which the logbook keeps.");
    }
  }

  private void remarks() {
    List<Remark> remarks = sheet.run().remarks();
    if (remarks.isEmpty()) {
      return;
    }
    HtmlTable table =
        HtmlTable.open(
            sheet.out(),
            "Remarks added afterwards",
            HtmlTable.Column.words("Written"),
            HtmlTable.Column.words("By"),
            HtmlTable.Column.words("Kind"),
            HtmlTable.Column.words("About"),
            HtmlTable.Column.words("Remark"));
    for (Remark r : remarks) {
      String about =
          r.point().isEmpty()
              ? "the run"
              : sheet.run().point(r.point().getAsLong()).map(PointWords::of).orElse("a point");
      table.row(sheet.local(r.writtenAt()), r.author(), r.kind().text(), about, r.text());
    }
    table.close();
  }
}
