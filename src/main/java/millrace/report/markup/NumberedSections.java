// SPDX-License-Identifier: Apache-2.0
package millrace.report.markup;

import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A plain-text page, divided into numbered sections under headings of the third order; what stands
 * in a section is read by {@link TextBlocks}.
 *
 * @param sections sections in the order of the page
 */
public record NumberedSections(List<Section> sections) {
  private static final Pattern HEADING = Pattern.compile("### (\\d+\\.\\d+) (.*)");

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
          sections.add(new Section(number, words, TextBlocks.split(lines)));
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
      sections.add(new Section(number, words, TextBlocks.split(lines)));
    }
    return new NumberedSections(sections);
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
      blocks.forEach(b -> TextBlocks.write(out, b));
    }
  }
}
