// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.plot.PrintedUnitSymbols;

/** The incidents of a run, the newest first; a serious one is marked by a word. */
final class IncidentsPiece {
  private static final int MOST = 60;

  private IncidentsPiece() {}

  /** Whether a person should see it first. */
  static boolean serious(Incident incident) {
    return switch (incident.kind()) {
      case BREACH, CAUTION, TIME_OUT, FLAG -> true;
      default -> false;
    };
  }

  static void write(Markup out, RunSnapshot look) {
    List<Incident> newest = new ArrayList<>(look.happened().incidents());
    newest.removeIf(i -> i.kind() == IncidentKind.NOTE);
    Collections.reverse(newest);
    out.element("h2", "Incidents, the newest first");
    if (newest.isEmpty()) {
      out.element("p", "Nothing was noted beside the readings.");
      return;
    }
    HtmlTable table =
        HtmlTable.stacked(
            out,
            "",
            HtmlTable.Column.words("Time"),
            HtmlTable.Column.words("Kind"),
            HtmlTable.Column.words("What happened"),
            HtmlTable.Column.words("Point"));
    newest.stream().limit(MOST).forEach(i -> row(table, look, i));
    table.close();
    if (newest.size() > MOST) {
      out.element("p", "And " + (newest.size() - MOST) + " before them, which the report tells.");
    }
  }

  private static void row(HtmlTable table, RunSnapshot look, Incident i) {
    table
        .begin()
        .cell(look.local(i.at()))
        .cell(
            o -> {
              if (serious(i)) {
                o.element("strong", "serious", "class", "serious").text(" ");
              }
              o.text(i.kind().text());
            })
        .cell(PrintedUnitSymbols.of(i.text()))
        .cell(PrintedUnitSymbols.of(i.pointKey().orElse("")))
        .end();
  }
}
