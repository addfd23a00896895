// SPDX-License-Identifier: Apache-2.0
package millrace.watch.page;

import java.io.StringWriter;
import java.util.List;
import java.util.function.Consumer;
import millrace.report.frame.HtmlPageFrame;
import millrace.report.markup.Markup;

/** The frame of every page of this room: its head, its bar, and its style and script. Stateless. */
public final class PageFrame {
  private static final String BANNER =
      "SIMULATED: no real unit, no real instruments; these numbers say nothing of any hardware";

  private PageFrame() {}

  /**
   * The head of a page.
   *
   * @param title of the window
   * @param simulated whether it must be marked as simulated
   * @param data attributes of its main part, names and values in turn
   */
  public record Head(String title, boolean simulated, List<String> data) {}

  /**
   * A whole page.
   *
   * @param head the head of the page
   * @param content its main part
   * @return HTML
   */
  public static String page(Head head, Consumer<Markup> content) {
    return page(head, true, content);
  }

  /**
   * A page without links to other pages.
   *
   * @param head the head of the page
   * @param content its main part
   * @return HTML
   */
  public static String alone(Head head, Consumer<Markup> content) {
    return page(head, false, content);
  }

  private static String page(Head head, boolean linked, Consumer<Markup> content) {
    return html(
        out -> {
          out.documentType().open("html", "lang", "en").open("head");
          out.lone("meta", "charset", "utf-8");
          out.lone("meta", "name", "viewport", "content", "width=device-width, initial-scale=1");
          out.element("title", head.title());
          out.lone("link", "rel", "icon", "href", "/icon.svg", "type", "image/svg+xml");
          out.lone("link", "rel", "stylesheet", "href", "/style.css");
          if (head.simulated()) {
            out.lone("link", "rel", "stylesheet", "href", "/simulated.css");
          }
          out.open("script", "src", "/page.js", "defer", "defer").text("").close();
          out.close();
          out.open("body", "class", "watch");
          bar(out, linked);
          out.open("main", head.data().toArray(String[]::new));
          if (head.simulated()) {
            out.element("div", BANNER, "class", "banner", "role", "note");
          }
          content.accept(out);
          out.close().close().close();
        });
  }

  private static void bar(Markup out, boolean linked) {
    out.open("header", "class", "bar");
    if (linked) {
      out.open("nav", "aria-label", "Pages");
      out.element("a", "All runs", "href", "/");
      out.element("a", "Bench", "href", "/bench");
      out.close();
    }
    out.element("p", "", "id", "link", "role", "status");
    out.close();
  }

  /**
   * A piece of a page.
   *
   * @param writing writes the piece
   * @return HTML
   */
  public static String html(Consumer<Markup> writing) {
    StringWriter text = new StringWriter();
    Markup out = Markup.to(text);
    writing.accept(out);
    out.end();
    return text.toString();
  }

  /**
   * Writes the section of a piece, which the script draws again by its name.
   *
   * @param out the page
   * @param name the name of the piece
   * @param label what a screen reader calls it
   * @param html the piece; empty text for nothing to show
   */
  public static void piece(Markup out, String name, String label, String html) {
    out.line()
        .open("section", "id", name, "class", "piece", "aria-label", label)
        .include(html)
        .close();
  }

  /** The style of all pages: that of the report, and the additions for live pages. */
  static String style() {
    return HtmlPageFrame.resource("report.css");
  }
}
