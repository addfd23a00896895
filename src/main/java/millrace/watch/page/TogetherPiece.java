// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;

/** The units of one chamber side by side; left out for a single unit. */
final class TogetherPiece {
  private TogetherPiece() {}

  static void write(Markup out, RunSnapshot look) {
    if (look.together().size() < 2) {
      return;
    }
    out.element("h2", "Units in this chamber");
    HtmlTable table =
        HtmlTable.stacked(
            out,
            "",
            HtmlTable.Column.words("Unit"),
            HtmlTable.Column.words("Slot"),
            HtmlTable.Column.words("State"),
            HtmlTable.Column.figures("Points"));
    for (RunSnapshot.Neighbour n : look.together()) {
      boolean here = n.run().id() == look.run().id();
      String name = n.run().start().unit() + ", run " + n.run().id();
      table
          .begin()
          .cell(
              o -> {
                if (here) {
                  o.element("strong", name + " (this page)");
                } else {
                  o.element("a", name, "href", WatchLinks.run(n.run().id()));
                }
              })
          .cell(n.run().start().facts().slot().orElse(""))
          .cell(n.goesOn() ? "running" : n.run().state().text())
          .figures(Long.toString(n.points()))
          .end();
    }
    table.close();
  }
}
