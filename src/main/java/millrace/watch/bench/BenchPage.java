// SPDX-License-Identifier: Apache-2.0
package millrace.watch.bench;

import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import millrace.bench.BenchFile;
import millrace.bench.check.BenchCheckFinding;
import millrace.bench.check.InstrumentCheck;
import millrace.bench.role.RoleName;
import millrace.lock.LockHolder;
import millrace.report.frame.HtmlTable;
import millrace.report.markup.Markup;
import millrace.watch.page.ActionForm;
import millrace.watch.page.PageFrame;
import millrace.watch.page.WatchLinks;

/**
 * The page of a bench: its user, its certificates, its last check, its wiring and its file.
 * Stateless.
 */
public final class BenchPage {
  private static final DateTimeFormatter MINUTE =
      DateTimeFormatter.ofPattern("d MMM HH:mm:ss", Locale.ROOT);
  private static final List<String> NAMES = List.of("now", "acts", "checked", "wiring", "stated");

  private final WatchedBench bench;
  private final BenchFile file;
  private final Set<LockHolder> holders;
  private final Optional<WatchedBench.Checked> last;

  private BenchPage(WatchedBench bench) {
    this.bench = bench;
    this.file = bench.file();
    this.holders = bench.holders(file);
    this.last = bench.last();
  }

  /**
   * The pieces of the page.
   *
   * @param bench the bench
   * @param token the token that changes must carry; empty text in read-only mode
   * @return HTML by the name of the piece
   * @throws millrace.fault.BadInputException if its file is unreadable or wrong
   */
  public static Map<String, String> pieces(WatchedBench bench, String token) {
    BenchPage page = new BenchPage(bench);
    Map<String, String> pieces = new LinkedHashMap<>();
    pieces.put("now", PageFrame.html(page::now));
    pieces.put("acts", token.isEmpty() ? "" : PageFrame.html(out -> page.acts(out, token)));
    pieces.put("checked", PageFrame.html(page::checked));
    pieces.put("wiring", PageFrame.html(page::wiring));
    pieces.put("stated", PageFrame.html(page::instruments));
    return pieces;
  }

  /**
   * The whole page.
   *
   * @param bench the bench
   * @param token what changes must bring along; empty text where nothing may be asked
   * @return HTML
   */
  public static String of(WatchedBench bench, String token) {
    BenchFile file = bench.file();
    Map<String, String> pieces = pieces(bench, token);
    String title = "Bench '" + file.name() + "'";
    return PageFrame.page(
        new PageFrame.Head(
            title,
            file.simulated(),
            List.of("data-events", "/bench/events", "data-token", "/page-token")),
        out -> {
          out.element("h1", title);
          out.element("p", "", "id", "said", "role", "status", "tabindex", "-1");
          for (String name : NAMES) {
            PageFrame.piece(out, name, label(name), pieces.getOrDefault(name, ""));
          }
        });
  }

  private static String label(String name) {
    return switch (name) {
      case "now" -> "Answer";
      case "acts" -> "What you can do";
      case "checked" -> "Last check";
      case "wiring" -> "Wiring";
      default -> "Instruments";
    };
  }

  private void now(Markup out) {
    out.open("div", "class", "verdict");
    out.element(
        "h2",
        BenchVerdict.answer(file, holders, last.map(WatchedBench.Checked::check), bench.today()));
    BenchVerdict.certificates(file, bench.today()).forEach(w -> out.element("p", w));
    if (holders.isEmpty()) {
      out.element(
          "p", "Another user of this machine, or another machine, is not seen: look at the bench.");
    }
    out.close();
  }

  private void acts(Markup out, String token) {
    out.element("h2", "What you can do");
    out.open("div", "class", "acts");
    new ActionForm(
            "check",
            "Check the bench",
            "Every instrument is asked who it is and for its errors, and the sensors of interlocks"
                + " are read. Nothing is set or switched. It is refused while a run has the bench."
                + " That the wiring is right is not seen by it: 'bench check --datasheet FILE' with"
                + " a unit in place looks at that.",
            "Yes, check the bench")
        .write(out, "/bench/check", token, o -> {});
    out.close();
  }

  private void checked(Markup out) {
    if (last.isEmpty()) {
      return;
    }
    out.element(
        "h2",
        "Last check from here, " + MINUTE.format(last.get().at().atZone(ZoneId.systemDefault())));
    HtmlTable table =
        HtmlTable.stacked(
            out,
            "What was found",
            HtmlTable.Column.words("State"),
            HtmlTable.Column.words("What"),
            HtmlTable.Column.words("Found"));
    for (BenchCheckFinding f : last.get().check().findings()) {
      table.begin().cell(o -> state(o, f.state())).cell(f.what()).cell(f.text()).end();
    }
    table.close();
  }

  private static void state(Markup out, BenchCheckFinding.State state) {
    if (state == BenchCheckFinding.State.GOOD) {
      out.text(state.text());
    } else {
      out.element("strong", state.text(), "class", "serious");
    }
  }

  private void wiring(Markup out) {
    out.element("h2", "Wiring, as the bench file states it");
    out.open("figure", "class", "page", "tabindex", "0");
    WiringDrawing.of(file).write(out, "wiring-drawing");
    out.element("figcaption", WiringDrawing.words(file)).close();
  }

  private void instruments(Markup out) {
    out.element("h2", "Instruments");
    HtmlTable table =
        HtmlTable.stacked(
            out,
            "As the bench file states them",
            HtmlTable.Column.words("Instrument"),
            HtmlTable.Column.words("Roles"),
            HtmlTable.Column.words("Driver"),
            HtmlTable.Column.words("Address"),
            HtmlTable.Column.words("Identity"),
            HtmlTable.Column.words("Certificate"),
            HtmlTable.Column.words("Due"),
            HtmlTable.Column.figures("Days left"));
    file.instruments().values().forEach(e -> row(table, e));
    table.close();
  }

  private void row(HtmlTable table, BenchFile.Entry e) {
    Optional<BenchFile.Certificate> certificate = e.certificate();
    table
        .begin()
        .cell(o -> o.element("a", e.name(), "href", WatchLinks.shelf("instrument", e.name())))
        .cell(e.roles().keySet().stream().map(RoleName::text).collect(Collectors.joining(", ")))
        .cell(e.driver())
        .cell(e.address().toString())
        .cell(identity(e))
        .cell(certificate.map(c -> c.number() + ", " + c.laboratory()).orElse("none stated"))
        .cell(
            certificate
                .flatMap(BenchFile.Certificate::due)
                .map(Object::toString)
                .orElse("not stated"))
        .cell(o -> daysLeft(o, e))
        .end();
  }

  private void daysLeft(Markup out, BenchFile.Entry e) {
    Optional<Long> left = BenchVerdict.daysLeft(e, bench.today());
    if (left.isEmpty()) {
      return;
    }
    if (left.get() < 0) {
      out.element("strong", BenchVerdict.days(-left.get()) + " over", "class", "serious");
    } else {
      out.text(Long.toString(left.get()));
    }
  }

  /** The identity at the last check from this page; else the expected one. */
  private String identity(BenchFile.Entry e) {
    Optional<String> answered =
        last.stream()
            .flatMap(c -> c.check().instruments().stream())
            .filter(i -> i.entry().name().equals(e.name()))
            .findFirst()
            .flatMap(InstrumentCheck::identity);
    return answered.orElseGet(
        () -> e.identity().map(p -> "expected: " + p.pattern()).orElse("not asked yet"));
  }
}
