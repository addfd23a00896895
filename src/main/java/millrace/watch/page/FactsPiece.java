// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import millrace.logbook.RunStart;
import millrace.report.markup.Markup;

/** The facts of a run, and a link to its whole report. */
final class FactsPiece {
  private FactsPiece() {}

  static void write(Markup out, RunSnapshot look) {
    RunStart start = look.run().start();
    out.element("h2", "The run");
    out.open("dl", "class", "facts");
    fact(out, "Sequence", start.title());
    fact(out, "Began", look.local(start.startedAt()));
    look.run().endedAt().ifPresent(e -> fact(out, "Ended", look.local(e)));
    start.people().operator().ifPresent(o -> fact(out, "Operator", o));
    start.people().batch().ifPresent(b -> fact(out, "Batch", b));
    start.people().tag().ifPresent(t -> fact(out, "Tag", t));
    fact(out, "UUID", look.run().uuid().toString());
    out.close();
    out.open("p");
    out.element("a", "The whole report", "href", WatchLinks.run(look.run().id()) + "/report");
    out.text(" as far as it is measured, with every result, budget and point.").close();
  }

  private static void fact(Markup out, String name, String value) {
    out.open("div").element("dt", name).element("dd", value).close();
  }
}
