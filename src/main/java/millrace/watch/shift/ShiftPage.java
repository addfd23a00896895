// SPDX-License-Identifier: Apache-2.0
package millrace.watch.shift;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import millrace.night.OperatorScreenText;
import millrace.quantity.NumberText;
import millrace.quantity.TimeSpanSeconds;
import millrace.report.chart.ReferenceUnitShares;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.report.words.ResultWords;
import millrace.run.control.RunObserver;
import millrace.run.production.BenchSelfCheck;
import millrace.run.production.OperatorScreen;
import millrace.watch.page.PageFrame;
import millrace.watch.page.WatchLinks;

/**
 * The page of a shift: the outcome in large letters, the reason, the next step, one field for
 * scans, and below it the counts of the shift. Stateless.
 */
public final class ShiftPage {
  private static final List<String> NAMES = List.of("outcome", "why", "question");
  private static final List<String> BELOW = List.of("shift", "reference");

  private final ShiftState.Shown shown;

  private ShiftPage(ShiftState.Shown shown) {
    this.shown = shown;
  }

  /**
   * The pieces of the page.
   *
   * @param state the state of the shift
   * @return HTML by the name of the piece
   */
  public static Map<String, String> pieces(ShiftState state) {
    ShiftPage page = new ShiftPage(state.shown());
    Map<String, String> pieces = new LinkedHashMap<>();
    pieces.put("outcome", PageFrame.html(page::outcome));
    pieces.put("why", PageFrame.html(page::why));
    pieces.put("question", PageFrame.html(page::question));
    pieces.put("shift", PageFrame.html(page::tally));
    pieces.put("reference", PageFrame.html(page::reference));
    return pieces;
  }

  /**
   * The whole page.
   *
   * @param state the state of the shift
   * @param token the token that an entry must carry
   * @return HTML
   */
  public static String of(ShiftState state, String token) {
    ShiftState.Shown shown = state.shown();
    Map<String, String> pieces = pieces(state);
    String title =
        "Shift " + shown.shift() + (shown.practice() ? ", practice: nothing is counted" : "");
    return PageFrame.alone(
        new PageFrame.Head(
            title,
            shown.practice(),
            List.of(
                "data-events",
                "/shift/events",
                "data-token",
                "/page-token",
                "data-scans",
                "yes",
                "class",
                "shift")),
        out -> {
          out.element("h1", title);
          NAMES.forEach(name -> piece(out, name, pieces));
          form(out, token, shown.question().number());
          out.element("p", "", "id", "said", "role", "status");
          BELOW.forEach(name -> piece(out, name, pieces));
        });
  }

  private static void piece(Markup out, String name, Map<String, String> pieces) {
    PageFrame.piece(out, name, label(name), pieces.getOrDefault(name, ""));
  }

  private static String label(String name) {
    return switch (name) {
      case "outcome" -> "Outcome";
      case "why" -> "Why, and what is next";
      case "question" -> "What is asked";
      case "shift" -> "The shift so far";
      default -> "Reference unit";
    };
  }

  /** The field is outside the refreshed pieces, so that a refresh never loses typed text. */
  private static void form(Markup out, String token, int number) {
    out.line().open("form", "method", "post", "action", "/shift/scan", "class", "scan");
    out.lone("input", "type", "hidden", "name", "page-token", "value", token);
    out.lone("input", "type", "hidden", "name", "number", "value", Integer.toString(number));
    out.lone(
        "input",
        "type",
        "text",
        "name",
        "scan",
        "id",
        "scan",
        "maxlength",
        "200",
        "autocomplete",
        "off",
        "autocapitalize",
        "off",
        "spellcheck",
        "false",
        "autofocus",
        "autofocus",
        "aria-label",
        "Scan or type here");
    out.element("button", "Enter", "type", "submit");
    out.close();
  }

  private void outcome(Markup out) {
    Optional<OperatorScreenText> text = shown.screen().map(OperatorScreenText::of);
    if (shown.over()) {
      large(out, "plain", "", "END");
    } else if (shown.screen().filter(OperatorScreen.Testing.class::isInstance).isPresent()) {
      large(out, "plain", "", "TESTING");
      out.element("p", text.orElseThrow().lines().get(0) + ahead(), "class", "ahead");
    } else if (text.filter(t -> !t.word().isEmpty()).isPresent()) {
      OperatorScreenText t = text.get();
      large(out, t.tone().name().toLowerCase(Locale.ROOT), shape(t.shape()), t.word());
    } else {
      large(out, "plain", "", text.isPresent() ? text.get().lines().get(0) : "READY");
    }
  }

  private String ahead() {
    return shown
        .ahead()
        .map(
            (RunObserver.Ahead a) ->
                " point %s of %s, about %s to go"
                    .formatted(a.before() + 1, a.points(), TimeSpanSeconds.print(a.left(), 2)))
        .orElse("");
  }

  private static void large(Markup out, String tone, String shape, String word) {
    out.open("p", "class", "large " + tone, "id", "answer");
    if (!shape.isEmpty()) {
      out.element("span", shape, "aria-hidden", "true", "class", "shape").text(" ");
    }
    out.text(word).close();
  }

  private static String shape(String name) {
    return switch (name) {
      case "tick" -> "\u2713";
      case "cross" -> "\u2717";
      case "question" -> "?";
      case "triangle" -> "\u25b2";
      default -> "\u25a0";
    };
  }

  /** The lines of the screen: few for a passed board, reason and location for a failed one. */
  private void why(Markup out) {
    if (shown.screen().filter(OperatorScreen.Testing.class::isInstance).isPresent()) {
      return;
    }
    boolean headed =
        shown.screen().map(OperatorScreenText::of).filter(t -> t.word().isEmpty()).isPresent();
    List<String> lines =
        shown.screen().map(s -> OperatorScreenText.of(s).lines()).orElse(List.of());
    for (String line : headed ? lines.subList(1, lines.size()) : lines) {
      if (!line.startsWith("So far: ")) {
        out.element("p", line.strip(), "class", line.startsWith("    ") ? "figures" : "line");
      }
    }
  }

  private void question(Markup out) {
    ShiftState.Question q = shown.question();
    String words =
        shown.over()
            ? "The session has ended."
            : q.open() ? q.text() : "Wait: nothing is asked at the moment.";
    out.open("p", "class", "asked", "data-number", Integer.toString(q.number()));
    out.element("label", words, "for", "scan").close();
  }

  private void tally(Markup out) {
    if (shown.tested().isEmpty()) {
      return;
    }
    out.element("h2", "The shift so far");
    out.element("p", OperatorScreenText.tally(shown.tested().get(0).tally()));
    HtmlTable table =
        HtmlTable.stacked(
            out,
            "Tested last, the newest first",
            HtmlTable.Column.words("Outcome"),
            HtmlTable.Column.words("Unit"),
            HtmlTable.Column.words("Test"),
            HtmlTable.Column.words("Failed first"),
            HtmlTable.Column.words("Run"));
    shown.tested().forEach(t -> row(table, t));
    table.close();
  }

  private static void row(HtmlTable table, OperatorScreen.Tested t) {
    table
        .begin()
        .cell(
            o -> {
              boolean passed = t.result().outcome().passed();
              o.element(passed ? "span" : "strong", t.result().outcome().text());
            })
        .cell(t.board().serial())
        .cell(t.board().attempt() > 1 ? "test " + t.board().attempt() : "first")
        .cell(
            t.result().shortfalls().stream()
                .findFirst()
                .map(f -> ResultWords.name(f.result()))
                .orElse(""))
        .cell(
            o -> {
              if (t.result().run() > 0) {
                o.element(
                    "a",
                    "run " + t.result().run(),
                    "href",
                    WatchLinks.run(t.result().run()),
                    "target",
                    "_blank",
                    "rel",
                    "noopener");
              }
            })
        .end();
  }

  private void reference(Markup out) {
    if (shown.checked().isEmpty()) {
      return;
    }
    BenchSelfCheck check = shown.checked().get().check();
    String serial = shown.checked().get().board().serial();
    out.element("h2", "Reference unit " + serial);
    out.element(
        "p",
        check.good()
            ? "The last check was good (run " + check.run() + ")."
            : "The last check was OUT: " + String.join("; ", check.findings()));
    if (check.shares().isEmpty()) {
      out.element(
          "p",
          "Its chart has no limits yet: it knows %s of %s."
              .formatted(check.learnt(), NumberText.counted(check.needed(), "check")));
      return;
    }
    out.open("figure", "class", "page", "tabindex", "0");
    ReferenceUnitShares.of(
            serial, check.shares().stream().map(s -> s.share()).toList(), shown.practice())
        .write(out, "reference-chart");
    out.close();
  }
}
