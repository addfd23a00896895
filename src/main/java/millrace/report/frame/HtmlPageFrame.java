// SPDX-License-Identifier: Apache-2.0
package millrace.report.frame;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.function.Consumer;
import millrace.document.file.AtomicFile;
import millrace.report.markup.Markup;
import millrace.report.markup.MarkupWriteException;

/** Frame of every page: head, style sheets, and the banner for simulated data. */
public final class HtmlPageFrame {
  private static final String BANNER =
      "SIMULATED: no real unit, no real instruments; these numbers say nothing of any hardware";

  private HtmlPageFrame() {}

  /**
   * Writes a page to a file. The file is complete or does not exist.
   *
   * @param file destination; its folder must exist
   * @param page writer of the page
   * @throws millrace.fault.BadInputException if it cannot be written or must not be overwritten
   */
  public static void write(Path file, Consumer<Writer> page) {
    AtomicFile.write(
        file,
        "-o",
        out -> {
          try {
            page.accept(out);
          } catch (MarkupWriteException e) {
            throw e.ioCause();
          }
        });
  }

  /**
   * Opens a page, up to its first section.
   *
   * @param out the page; nothing is written yet
   * @param title title of the window
   * @param simulated whether the page carries the banner for simulated data
   * @param styles additional style sheets, by name
   */
  public static void open(Markup out, String title, boolean simulated, String... styles) {
    open(out, new Head(title, title, simulated, ""), styles);
  }

  /**
   * Facts in the head of a page.
   *
   * @param title title of the window
   * @param foot text at the foot of every printed page, beside its number
   * @param simulated whether the page carries the banner for simulated data
   * @param kind the class of its body; may be empty
   */
  public record Head(String title, String foot, boolean simulated, String kind) {}

  /** Opens a page, up to its first section. */
  public static void open(Markup out, Head head, String... styles) {
    List<String> all = new ArrayList<>(List.of("report.css"));
    if (head.simulated()) {
      all.add("simulated.css");
    }
    all.addAll(List.of(styles));
    frame(out, head, all);
  }

  /**
   * Opens a page that is made for paper; it does not use the style of reports for screens.
   *
   * @param out the page; nothing is written yet
   * @param head facts in the head of the page
   * @param styles its style sheets, by name
   */
  public static void openPlain(Markup out, Head head, String... styles) {
    List<String> all = new ArrayList<>(List.of(styles));
    if (head.simulated()) {
      all.add("simulated-foot.css");
    }
    frame(out, head, all);
  }

  private static void frame(Markup out, Head head, List<String> styles) {
    StringBuilder style = new StringBuilder();
    styles.forEach(name -> style.append(resource(name)));
    style
        .append("@page { @bottom-left { content: '")
        .append(quoted(head.foot()))
        .append("'; font: 8.5pt sans-serif; } }");
    out.documentType().open("html", "lang", "en");
    out.line()
        .open("head")
        .lone("meta", "charset", "utf-8")
        .lone("meta", "name", "viewport", "content", "width=device-width, initial-scale=1")
        .element("title", head.title())
        .element("style", style.toString())
        .close();
    out.line().open("body", "class", head.kind()).open("main");
    // Browsers repeat fixed elements on every printed page, so the banner needs no print
    // setting.
    if (head.simulated()) {
      out.line().element("div", BANNER, "class", "banner", "role", "note");
    }
  }

  /** Closes the elements that {@link #open} opened. */
  public static void close(Markup out) {
    out.close().close().close();
    out.end();
  }

  /**
   * Quotes an external text for a style sheet. ASCII letters and digits stay; every other character
   * becomes its code point (CSS Syntax Module Level 3, 4.3.7), so that none can end the quotes.
   */
  static String quoted(String text) {
    StringBuilder out = new StringBuilder();
    text.codePoints()
        .forEach(
            c -> {
              if (" -".indexOf(c) >= 0 || (c < 128 && Character.isLetterOrDigit(c))) {
                out.appendCodePoint(c);
              } else {
                out.append('\\').append(Integer.toHexString(c < ' ' ? '\ufffd' : c)).append(' ');
              }
            });
    return out.toString();
  }

  /** Reads a style sheet. Style sheets contain no character that HTML and XML read differently. */
  public static String resource(String name) {
    try (InputStream in = HtmlPageFrame.class.getResourceAsStream(name)) {
      byte[] bytes = Objects.requireNonNull(in, name).readAllBytes();
      return new String(bytes, StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
