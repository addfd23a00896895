// SPDX-License-Identifier: Apache-2.0
package millrace.report.markup;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A page of numbered sections in the plain marks that files of words are written in, cut into
 * these. It reads headings of the third order, paragraphs, indented formulas, lists, tables, words
 * in back quotes and bold words.
 *
 * @param sections in the order of the page
 */
public record NumberedSections(List<Section> sections) {
  private static final Pattern HEADING = Pattern.compile("### (\\d+\\.\\d+) (.*)");
  private static final Pattern SET_APART = Pattern.compile("`([^`]+)`|\\*\\*([^*]+)\\*\\*");

  /** Copies the list. */
  public NumberedSections {
    sections = List.copyOf(sections);
  }

  /**
   * Cuts a page.
   *
   * @param text of the page; what stands under no number is left out
   * @return its sections
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

  /** Lines between blank ones. */
  private static List<String> blocks(List<String> lines) {
    return Arrays.stream(String.join("\n", lines).split("\n\\s*\n"))
        .map(b -> b.replaceFirst("^\n+", "").stripTrailing())
        .filter(b -> !b.isBlank())
        .toList();
  }

  /**
   * One section.
   *
   * @param number such as 3.1
   * @param heading without its number
   * @param blocks paragraphs and the like, their line feeds kept
   */
  public record Section(String number, String heading, List<String> blocks) {
    /** Copies the list. */
    public Section {
      blocks = List.copyOf(blocks);
    }

    /**
     * Writes what stands under the heading.
     *
     * @param out where to
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
      } else {
        out.element("strong", m.group(2));
      }
      from = m.end();
    }
    out.text(text.substring(from));
  }
}
