// SPDX-License-Identifier: Apache-2.0
package millrace.report.markup;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A plain-text page, divided into numbered sections. It reads headings of the third order,
 * paragraphs, indented formulas, lists, tables, words in back quotes and bold words.
 *
 * @param sections sections in the order of the page
 */
public record NumberedSections(List<Section> sections) {
  private static final Pattern HEADING = Pattern.compile("### (\\d+\\.\\d+) (.*)");
  private static final Pattern SET_APART =
      Pattern.compile("`([^`]+)`|\\*\\*([^*]+)\\*\\*|\\*([^*\\s][^*]*)\\*");

  /** Copies the list. */
  public NumberedSections {
    sections = List.copyOf(sections);
  }

  /**
   * Divides a page into sections.
   *
   * @param text text of the page; text without a section number is left out
   * @return the sections
   */
  public static NumberedSections of(String text) {
    List<Section> sections = new ArrayList<>();
    List<String> lines = new ArrayList<>();
    Matcher heading = HEADING.matcher("");
    String number = "";
    String words = "";
    for (String line : text.split("\n", -1)) {
      if (line.startsWith("#")) {
        if (!number.isEmpty()) {
          sections.add(new Section(number, words, blocks(lines)));
        }
        boolean begins = heading.reset(line).matches();
        number = begins ? heading.group(1) : "";
        words = begins ? heading.group(2) : "";
        lines.clear();
      } else {
        lines.add(line);
      }
    }
    if (!number.isEmpty()) {
      sections.add(new Section(number, words, blocks(lines)));
    }
    return new NumberedSections(sections);
  }

  /** Groups of lines between blank lines. */
  private static List<String> blocks(List<String> lines) {
    return Arrays.stream(String.join("\n", lines).split("\n\\s*\n"))
        .map(b -> b.replaceFirst("^\n+", "").stripTrailing())
        .filter(b -> !b.isBlank())
        .toList();
  }

  /**
   * One section.
   *
   * @param number the number, such as 3.1
   * @param heading the heading, without the number
   * @param blocks paragraphs and other blocks, with their line feeds
   */
  public record Section(String number, String heading, List<String> blocks) {
    /** Copies the list. */
    public Section {
      blocks = List.copyOf(blocks);
    }

    /**
     * Writes the content below the heading.
     *
     * @param out destination
     */
    public void write(Markup out) {
      blocks.forEach(b -> block(out, b));
    }
  }

  private static void block(Markup out, String block) {
    if (block.startsWith("    ")) {
      out.line().element("pre", block.replaceAll("(?m)^ {4}", ""));
    } else if (block.startsWith("|")) {
      table(out, block);
    } else if (block.startsWith("- ")) {
      out.line().open("ul");
      for (String item : block.substring(2).split("\n- ")) {
        out.open("li");
        words(out, item);
        out.close();
      }
      out.close();
    } else {
      out.line().open("p");
      words(out, block);
      out.close();
    }
  }

  private static void table(Markup out, String block) {
    out.line().open("table").open("tbody");
    for (String line : block.split("\n")) {
      if (!line.startsWith("|--")) {
        out.line().open("tr");
        for (String cell : line.substring(1, line.lastIndexOf('|')).split("\\|")) {
          out.open("td");
          words(out, cell.strip());
          out.close();
        }
        out.close();
      }
    }
    out.close().close();
  }

  private static void words(Markup out, String text) {
    Matcher m = SET_APART.matcher(text);
    int from = 0;
    while (m.find()) {
      out.text(text.substring(from, m.start()));
      if (m.group(1) != null) {
        out.element("code", m.group(1));
      } else if (m.group(2) != null) {
        out.element("strong", m.group(2));
      } else {
        out.element("em", m.group(3));
      }
      from = m.end();
    }
    out.text(text.substring(from));
  }
}
