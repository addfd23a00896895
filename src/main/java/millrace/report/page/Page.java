// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Objects;
import java.util.function.Consumer;
import millrace.document.file.WholeFile;
import millrace.report.markup.Markup;
import millrace.report.markup.MarkupException;

/** The frame that every page stands in: head, style, and the banner over what was simulated. */
public final class Page {
  private static final String BANNER =
      "SIMULATED: no real unit, no real instruments; these numbers say nothing of any hardware";

  private Page() {}

  /**
   * Writes a page as a file that is whole or not there.
   *
   * @param file where to; its folder must exist
   * @param page what writes it
   * @throws millrace.fault.BadInputException if it cannot be written, or must not be written over
   */
  public static void write(Path file, Consumer<Writer> page) {
    WholeFile.write(
        file,
        "-o",
        out -> {
          try {
            page.accept(out);
          } catch (MarkupException e) {
            throw e.ioCause();
          }
        });
  }

  /**
   * Opens a page up to where its sections begin.
   *
   * @param out nothing was written to it yet
   * @param title of the window
   * @param simulated whether it must say so
   * @param styles further style sheets, by name
   */
  public static void open(Markup out, String title, boolean simulated, String... styles) {
    StringBuilder style = new StringBuilder(resource("report.css"));
    style.append(simulated ? resource("simulated.css") : "");
    for (String name : styles) {
      style.append(resource(name));
    }
    out.documentType().open("html", "lang", "en");
    out.line()
        .open("head")
        .lone("meta", "charset", "utf-8")
        .lone("meta", "name", "viewport", "content", "width=device-width, initial-scale=1")
        .element("title", title)
        .element("style", style.toString())
        .close();
    out.line().open("body").open("main");
    // Print repeats what is fixed on every page, so the banner needs nothing of the printer.
    if (simulated) {
      out.line().element("div", BANNER, "class", "banner", "role", "note");
    }
  }

  /** Closes what {@link #open} opened. */
  public static void close(Markup out) {
    out.close().close().close();
    out.end();
  }

  /** Style sheets hold none of the characters that HTML and XML read differently. */
  private static String resource(String name) {
    try (InputStream in = Page.class.getResourceAsStream(name)) {
      byte[] bytes = Objects.requireNonNull(in, name).readAllBytes();
      return new String(bytes, StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
