// SPDX-License-Identifier: Apache-2.0
package millrace.report.markup;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Blocks of a plain-text page as markup: paragraphs, lists with points or numbers, tables, indented
 * formulas, text between fences; in their lines words in back quotes, bold words and links. It
 * reads this part of Markdown and no more; everything else stays as it is written.
 */
public final class TextBlocks {
  private static final String FENCE = "```";
  private static final Pattern SET_APART =
      Pattern.compile(
          "`([^`]+)`|\\*\\*([^*]+)\\*\\*|\\*([^*\\s][^*]*)\\*|\\[([^\\]]+)\\]\\(([^)]+)\\)");
  private static final Pattern NUMBERED = Pattern.compile("\n\\d+\\. ");

  private TextBlocks() {}

  /**
   * Divides lines into blocks: at blank lines, and around fences, which keep their blank lines.
   *
   * @param lines lines of a page
   * @return blocks with their line feeds; none is blank
   */
  public static List<String> split(List<String> lines) {
    List<String> blocks = new ArrayList<>();
    StringBuilder block = new StringBuilder();
    boolean fenced = false;
    for (String line : lines) {
      boolean fence = line.startsWith(FENCE);
      if (!fenced && (fence || line.isBlank())) {
        end(block, blocks);
      }
      block.append(line).append('\n');
      if (fenced && fence) {
        end(block, blocks);
      }
      fenced ^= fence;
    }
    end(block, blocks);
    return blocks;
  }

  private static void end(StringBuilder block, List<String> blocks) {
    String text = block.toString().replaceFirst("^\n+", "").stripTrailing();
    if (!text.isBlank()) {
      blocks.add(text);
    }
    block.setLength(0);
  }

  /**
   * Writes a block.
   *
   * @param out destination
   * @param block one of {@link #split}
   */
  public static void write(Markup out, String block) {
    if (block.startsWith(FENCE)) {
      fenced(out, block);
    } else if (block.startsWith("    ")) {
      out.line().element("pre", block.replaceAll("(?m)^ {4}", ""));
    } else if (block.startsWith("|")) {
      table(out, block);
    } else if (block.startsWith("- ")) {
      list(out, "ul", block.substring(2).split("\n- "));
    } else if (block.startsWith("1. ")) {
      list(out, "ol", NUMBERED.split(block.substring(3)));
    } else {
      out.line().open("p");
      words(out, block);
      out.close();
    }
  }

  /**
   * Text between fences. Behind the first fence stand its kind and, where it is a file, its name.
   */
  private static void fenced(Markup out, String block) {
    int from = block.indexOf('\n');
    int to = block.lastIndexOf('\n');
    String[] named = block.substring(FENCE.length(), from).strip().split(" ", 2);
    if (named.length == 2) {
      out.line().element("p", named[1], "class", "file");
    }
    out.line().open("pre", "class", named[0], "tabindex", "0");
    out.element("code", from < to ? block.substring(from + 1, to) : "").close();
  }

  private static void list(Markup out, String kind, String[] items) {
    out.line().open(kind);
    for (String item : items) {
      out.open("li");
      words(out, item);
      out.close();
    }
    out.close();
  }

  private static void table(Markup out, String block) {
    List<String> lines = Arrays.asList(block.split("\n"));
    boolean headed = lines.size() > 1 && lines.get(1).startsWith("|--");
    out.line().open("table");
    if (headed) {
      out.open("thead");
      row(out, "th", lines.get(0));
      out.close();
    }
    out.open("tbody");
    lines.subList(headed ? 2 : 0, lines.size()).forEach(line -> row(out, "td", line));
    out.close().close();
  }

  private static void row(Markup out, String cells, String line) {
    out.line().open("tr");
    for (String cell : line.substring(1, line.lastIndexOf('|')).split("\\|")) {
      out.open(cells);
      words(out, cell.strip());
      out.close();
    }
    out.close();
  }

  /** Writes words; some are set apart, some lead elsewhere. */
  public static void words(Markup out, String text) {
    Matcher m = SET_APART.matcher(text);
    int from = 0;
    while (m.find()) {
      out.text(text.substring(from, m.start()));
      if (m.group(1) != null) {
        out.element("code", m.group(1));
      } else if (m.group(2) != null) {
        out.element("strong", m.group(2));
      } else if (m.group(3) != null) {
        out.element("em", m.group(3));
      } else {
        out.element("a", m.group(4), "href", m.group(5));
      }
      from = m.end();
    }
    out.text(text.substring(from));
  }
}
