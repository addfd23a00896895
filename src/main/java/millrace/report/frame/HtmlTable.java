// SPDX-License-Identifier: Apache-2.0
package millrace.report.frame;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.Consumer;
import millrace.report.markup.Markup;

/** Table of a page, written row by row; the head repeats on each printed page. */
public final class HtmlTable {
  private static final int LONG = 26;

  private final Markup out;

  /** Column heads that a narrow screen shows before each cell; empty if it keeps the columns. */
  private final List<String> heads;

  private boolean first = true;
  private int place;

  private HtmlTable(Markup out, List<String> heads) {
    this.out = out;
    this.heads = heads;
  }

  /** A column: its head, and whether its cells hold figures. */
  public record Column(String head, boolean figures) {
    /** A column of words, aligned left. */
    public static Column words(String head) {
      return new Column(head, false);
    }

    /** A column of figures, aligned right. */
    public static Column figures(String head) {
      return new Column(head, true);
    }
  }

  /** Opens a table with its caption and column heads. */
  public static HtmlTable open(Markup out, String caption, Column... columns) {
    out.line().open("table");
    return opened(out, caption, columns, List.of());
  }

  /** Opens a table whose cells a narrow screen stacks below each other. */
  public static HtmlTable stacked(Markup out, String caption, Column... columns) {
    out.line().open("table", "class", "stack");
    return opened(out, caption, columns, Arrays.stream(columns).map(Column::head).toList());
  }

  private static HtmlTable opened(
      Markup out, String caption, Column[] columns, List<String> heads) {
    if (!caption.isEmpty()) {
      out.element("caption", caption);
    }
    out.open("thead").open("tr");
    for (Column column : columns) {
      out.element("th", column.head(), "scope", "col", "class", column.figures() ? "figures" : "");
    }
    out.close().close();
    return new HtmlTable(out, heads);
  }

  /** Opens a cell; adds its column head if a narrow screen needs it. */
  private Markup openCell(String... attributes) {
    List<String> all = new ArrayList<>(List.of(attributes));
    if (place < heads.size()) {
      all.addAll(List.of("data-head", heads.get(place)));
    }
    place++;
    return out.open("td", all.toArray(String[]::new));
  }

  /** Writes a row of text. */
  public HtmlTable row(String... cells) {
    begin();
    for (String cell : cells) {
      cell(cell);
    }
    return end();
  }

  /** Begins a row; its cells follow. */
  public HtmlTable begin() {
    if (first) {
      out.open("tbody");
      first = false;
    }
    place = 0;
    out.line().open("tr");
    return this;
  }

  /** Writes the head of a row; a single word, such as a serial number, is not broken. */
  public HtmlTable head(String text) {
    place++;
    boolean word = text.length() <= LONG && text.indexOf(' ') < 0;
    out.element("th", text, "scope", "row", "class", word ? "short" : "");
    return this;
  }

  /** Writes the head of a row with custom markup. */
  public HtmlTable head(Consumer<Markup> content) {
    place++;
    out.open("th", "scope", "row");
    content.accept(out);
    out.close();
    return this;
  }

  /** Writes a cell of words that spans several columns. */
  public HtmlTable over(Consumer<Markup> content, int columns) {
    place += columns;
    out.open("td", "colspan", String.valueOf(columns));
    content.accept(out);
    out.close();
    return this;
  }

  /** Writes a cell of words. */
  public HtmlTable cell(String text) {
    openCell().text(text).close();
    return this;
  }

  /** Writes a cell of figures; short ones stay on one line. */
  public HtmlTable figures(String text) {
    openCell("class", text.length() > LONG ? "figures" : "figures short").text(text).close();
    return this;
  }

  /** Writes a cell of figures that may wrap to a second line. */
  public HtmlTable folding(String text) {
    openCell("class", "figures").text(text).close();
    return this;
  }

  /** Writes a cell with custom markup. */
  public HtmlTable cell(Consumer<Markup> content) {
    openCell();
    content.accept(out);
    out.close();
    return this;
  }

  /** Ends a row. */
  public HtmlTable end() {
    out.close();
    return this;
  }

  /** Begins a row group that stays together in print if it fits the page. */
  public HtmlTable rows() {
    if (!first) {
      out.close();
    }
    first = false;
    out.line().open("tbody");
    return this;
  }

  /** Begins a row group with its own head; it stays together in print if it fits the page. */
  public HtmlTable group(String head, int columns) {
    if (!first) {
      out.close();
    }
    first = false;
    out.line()
        .open("tbody", "class", "group")
        .open("tr")
        .element("th", head, "scope", "rowgroup", "colspan", String.valueOf(columns))
        .close();
    return this;
  }

  /** Ends the table. */
  public void close() {
    if (!first) {
      out.close();
    }
    out.close();
  }
}
