// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import millrace.evidence.Conformity;
import millrace.evidence.RunOrigin;
import millrace.logbook.LatestRunVerdict;
import millrace.logbook.RunState;
import millrace.logbook.RunSummary;
import millrace.quantity.NumberText;
import millrace.report.frame.HighlightedWords;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.words.OverallVerdict;

/**
 * The runs of a logbook: outcome first; search and filters are in the query of the address, so that
 * a link to them can be sent. Stateless.
 */
public final class ShelfPage {
  private static final DateTimeFormatter MINUTE =
      DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm", Locale.ROOT);

  private final Shelf shelf;

  private ShelfPage(Shelf shelf) {
    this.shelf = shelf;
  }

  /**
   * The content of the shelf.
   *
   * @param logbook its name
   * @param runs the newest first, one page at most
   * @param verdicts their last judgements, by run
   * @param writing the runs in progress
   * @param asked words of the query, by name: unit, batch, tag, instrument, text, failed
   * @param left the number of older runs not shown
   * @param certificates the certificates of an instrument, in words; empty unless one was asked for
   */
  public record Shelf(
      String logbook,
      List<RunSummary> runs,
      Map<Long, LatestRunVerdict> verdicts,
      Set<Long> writing,
      Map<String, String> asked,
      int left,
      List<String> certificates) {}

  /**
   * Writes the page.
   *
   * @param shelf its content
   * @return a whole page
   */
  public static String of(Shelf shelf) {
    ShelfPage page = new ShelfPage(shelf);
    boolean all =
        !shelf.runs().isEmpty()
            && shelf.runs().stream().allMatch(r -> r.start().origin() == RunOrigin.SIMULATED);
    return PageFrame.page(
        new PageFrame.Head(
            "Runs in " + shelf.logbook(), all, List.of("data-events", "/events" + query(shelf))),
        page::write);
  }

  /**
   * The pieces that are refreshed while the page is open.
   *
   * @param shelf the content
   * @return HTML by the name of the piece
   */
  public static Map<String, String> pieces(Shelf shelf) {
    ShelfPage page = new ShelfPage(shelf);
    Map<String, String> pieces = new LinkedHashMap<>();
    pieces.put("now", PageFrame.html(page::now));
    pieces.put("runs", PageFrame.html(page::runs));
    return pieces;
  }

  /** The same search as that of the page. */
  private static String query(Shelf shelf) {
    return shelf.asked().entrySet().stream()
        .map(e -> WatchLinks.shelf(e.getKey(), e.getValue()).substring(2))
        .collect(Collectors.joining("&", shelf.asked().isEmpty() ? "" : "?", ""));
  }

  private void now(Markup out) {
    out.open("div", "class", "verdict").element("h2", answer());
    running(out);
    if (shelf.runs().isEmpty() && shelf.asked().isEmpty()) {
      out.element(
          "p",
          "Start one with 'millrace run' or 'millrace production' and --logbook "
              + shelf.logbook()
              + ": it appears here by itself.");
    }
    out.close();
  }

  private void write(Markup out) {
    out.element("h1", "Runs in " + shelf.logbook());
    Map<String, String> pieces = pieces(shelf);
    PageFrame.piece(out, "now", "Answer", pieces.getOrDefault("now", ""));
    if (!shelf.runs().isEmpty() || !shelf.asked().isEmpty()) {
      filters(out);
    }
    if (!shelf.certificates().isEmpty()) {
      out.element("h2", "Certificates of instrument " + shelf.asked().get("instrument"));
      out.open("ul");
      shelf.certificates().forEach(c -> out.element("li", c));
      out.close();
    }
    PageFrame.piece(out, "runs", "Runs", pieces.getOrDefault("runs", ""));
  }

  private void runs(Markup out) {
    if (!shelf.runs().isEmpty()) {
      table(out);
    }
  }

  private String answer() {
    if (shelf.runs().isEmpty()) {
      return shelf.asked().isEmpty() ? "No run yet" : "No such run";
    }
    String counted =
        NumberText.counted(shelf.runs().size() + shelf.left(), "run")
            + (shelf.asked().isEmpty() ? "" : " found");
    int n = shelf.writing().size();
    return counted
        + (n == 0 ? ", none under way" : n == 1 ? ", one under way" : ", " + n + " under way");
  }

  private void running(Markup out) {
    for (RunSummary r : shelf.runs()) {
      if (shelf.writing().contains(r.id())) {
        out.open("p").text("Under way: ");
        out.element(
            "a", "unit " + r.start().unit() + ", run " + r.id(), "href", WatchLinks.run(r.id()));
        out.text(", " + r.start().title()).close();
      }
    }
  }

  private void filters(Markup out) {
    out.line().open("form", "method", "get", "action", "/", "class", "filters", "role", "search");
    field(out, "text", "Text");
    field(out, "unit", "Unit");
    field(out, "batch", "Batch");
    field(out, "tag", "Tag");
    field(out, "instrument", "Instrument");
    out.open("label", "class", "tick");
    List<String> tick =
        new ArrayList<>(List.of("type", "checkbox", "name", "failed", "value", "yes"));
    if (shelf.asked().containsKey("failed")) {
      tick.addAll(List.of("checked", "checked"));
    }
    out.lone("input", tick.toArray(String[]::new)).text("failed only").close();
    out.element("button", "Find", "type", "submit");
    if (!shelf.asked().isEmpty()) {
      out.element("a", "All runs", "href", "/");
    }
    out.close();
  }

  private void field(Markup out, String name, String label) {
    out.open("label").text(label);
    out.lone(
        "input",
        "type",
        "text",
        "name",
        name,
        "maxlength",
        "80",
        "value",
        shelf.asked().getOrDefault(name, ""));
    out.close();
  }

  private void table(Markup out) {
    out.line().open("form", "method", "get", "action", "/compare");
    out.open("p");
    out.element("button", "Compare the runs that are ticked", "type", "submit");
    out.text(" Tick two or more.").close();
    HtmlTable table =
        HtmlTable.stacked(
            out,
            "The newest first",
            HtmlTable.Column.words("Pick"),
            HtmlTable.Column.words("Outcome"),
            HtmlTable.Column.words("Run"),
            HtmlTable.Column.words("Unit"),
            HtmlTable.Column.words("Failed first"),
            HtmlTable.Column.words("Began (UTC)"),
            HtmlTable.Column.words("Batch"),
            HtmlTable.Column.words("Operator"),
            HtmlTable.Column.words("Bench"),
            HtmlTable.Column.words("Sequence"));
    shelf.runs().forEach(r -> row(table, r));
    table.close();
    out.close();
    if (shelf.left() > 0) {
      out.element(
          "p",
          NumberText.counted(shelf.left(), "older run") + " not shown: search or filter above.");
    }
  }

  private void row(HtmlTable table, RunSummary r) {
    String id = Long.toString(r.id());
    table
        .begin()
        .cell(
            o ->
                o.lone(
                    "input",
                    "type",
                    "checkbox",
                    "name",
                    "run",
                    "value",
                    id,
                    "aria-label",
                    "Pick run " + id))
        .cell(o -> outcome(o, r))
        .cell(o -> o.element("a", "run " + id, "href", WatchLinks.run(r.id())))
        .cell(
            o ->
                o.element(
                    "a", r.start().unit(), "href", WatchLinks.shelf("unit", r.start().unit())))
        .cell(failedFirst(r))
        .cell(
            r.start()
                .measuredAt()
                .map(at -> MINUTE.format(at.atOffset(ZoneOffset.UTC)))
                .orElse("not stated"))
        .cell(
            o ->
                r.start()
                    .people()
                    .batch()
                    .ifPresent(b -> o.element("a", b, "href", WatchLinks.shelf("batch", b))))
        .cell(r.start().people().operator().orElse(""))
        .cell(r.start().facts().bench().orElse(origin(r)))
        .cell(r.start().title())
        .end();
  }

  private static String origin(RunSummary r) {
    return switch (r.start().origin()) {
      case SIMULATED -> "SIMULATED";
      case IMPORTED -> "imported";
      case BENCH -> "";
    };
  }

  private LatestRunVerdict verdict(RunSummary r) {
    return shelf.verdicts().getOrDefault(r.id(), LatestRunVerdict.none(r.id()));
  }

  private void outcome(Markup out, RunSummary r) {
    if (shelf.writing().contains(r.id())) {
      out.element("strong", "under way");
      return;
    }
    if (r.state() != RunState.COMPLETE) {
      out.text(r.state() == RunState.UNFINISHED ? "interrupted" : r.state().text());
      out.text(verdict(r).limits().isEmpty() ? "" : ", ");
    }
    List<Conformity> limits = verdict(r).limits();
    if (!limits.isEmpty()) {
      OverallVerdict.order().stream()
          .filter(limits::contains)
          .findFirst()
          .ifPresent(worst -> HighlightedWords.conformity(out, worst));
    } else if (r.state() == RunState.COMPLETE) {
      out.text("not judged");
    }
  }

  private String failedFirst(RunSummary r) {
    Optional<LatestRunVerdict.Failed> failed = verdict(r).failedFirst();
    return failed
        .map(f -> f.quantity().inWords() + f.range().map(range -> " of " + range).orElse(""))
        .orElse("");
  }
}
