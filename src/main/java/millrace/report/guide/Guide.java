// SPDX-License-Identifier: Apache-2.0
package millrace.report.guide;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import millrace.report.frame.HtmlPageFrame;
import millrace.report.markup.Markup;
import millrace.report.markup.TextBlocks;

/**
 * The guide as one HTML page that needs no network and no script. Its text is guide.md, whose
 * headings of the second order are its sections; an image in it names the file of a drawing. The
 * same files give the same page. Stateless.
 */
public final class Guide {
  private static final Pattern DRAWING = Pattern.compile("!\\[([^\\]]*)\\]\\(([^)]+)\\)");

  private final Markup out;
  private int drawings;

  private Guide(Markup out) {
    this.out = out;
  }

  /** A section: its heading, and the blocks below it. */
  private record Section(String heading, List<String> blocks) {
    String name() {
      return anchor(heading);
    }
  }

  /**
   * Writes the page. The file is complete or does not exist.
   *
   * @param file destination; its folder must exist
   * @throws millrace.fault.BadInputException if it cannot be written or must not be overwritten
   */
  public static void write(Path file) {
    HtmlPageFrame.write(file, Guide::write);
  }

  private static void write(Writer writer) {
    new Guide(Markup.to(writer)).page(resource("guide.md"));
  }

  private void page(String text) {
    String title = text.substring(2, text.indexOf('\n'));
    List<Section> sections = sections(text.substring(text.indexOf('\n')));
    HtmlPageFrame.open(
        out, new HtmlPageFrame.Head(title, title, false, "report guide"), "guide.css");
    out.line().open("header").element("h1", title);
    sections.get(0).blocks().forEach(this::block);
    out.close();
    contents(sections.subList(1, sections.size()));
    for (Section section : sections.subList(1, sections.size())) {
      out.line().open("section", "id", section.name()).element("h2", section.heading());
      section.blocks().forEach(this::block);
      out.close();
    }
    HtmlPageFrame.close(out);
  }

  private void contents(List<Section> sections) {
    out.line().open("nav", "class", "contents", "aria-label", "Contents");
    out.element("h2", "Contents").open("ol");
    for (Section section : sections) {
      out.open("li").element("a", section.heading(), "href", "#" + section.name()).close();
    }
    out.close().close();
  }

  /** The first section is what stands before the first heading. */
  private static List<Section> sections(String text) {
    List<Section> sections = new ArrayList<>();
    for (String part : text.split("(?m)^## ")) {
      int end = sections.isEmpty() ? 0 : part.indexOf('\n');
      sections.add(
          new Section(
              part.substring(0, end), TextBlocks.split(part.substring(end).lines().toList())));
    }
    return sections;
  }

  private void block(String block) {
    Matcher drawing = DRAWING.matcher(block);
    if (drawing.matches()) {
      drawing(drawing.group(1), drawing.group(2));
    } else if (block.startsWith("### ")) {
      String heading = block.substring(4);
      out.line().element("h3", heading, "id", anchor(heading));
    } else if (block.startsWith("> ")) {
      out.line().open("div", "class", "caution", "role", "note");
      TextBlocks.write(out, block.substring(2).replace("\n> ", "\n"));
      out.close();
    } else {
      TextBlocks.write(out, block);
    }
  }

  private void drawing(String caption, String file) {
    out.line().open("figure");
    DrawingFile.read(file, resource(file)).write(out, "drawing-" + ++drawings);
    out.line().open("figcaption");
    TextBlocks.words(out, caption);
    out.close().close();
  }

  /** The anchor of a heading, as pages of Markdown usually have it. */
  private static String anchor(String heading) {
    return heading.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9 -]", "").replace(' ', '-');
  }

  private static String resource(String name) {
    try (InputStream in = Guide.class.getResourceAsStream(name)) {
      return new String(Objects.requireNonNull(in, name).readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
