// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.function.Consumer;
import millrace.report.markup.Markup;

/** A table of a page, written row by row; head rows come again on each printed page. */
public final class Table {
  private static final int LONG = 26;

  private final Markup out;
  private boolean first = true;

  private Table(Markup out) {
    this.out = out;
  }

  /** A column: its head, and whether its cells are figures. */
  public record Column(String head, boolean figures) {
    /** A column of words, which stand left. */
    public static Column words(String head) {
      return new Column(head, false);
    }

    /** A column of figures, which stand right. */
    public static Column figures(String head) {
      return new Column(head, true);
    }
  }

  /** Opens a table with its caption and the heads of its columns. */
  public static Table open(Markup out, String caption, Column... columns) {
    out.line().open("table").element("caption", caption).open("thead").open("tr");
    for (Column column : columns) {
      out.element("th", column.head(), "scope", "col", "class", column.figures() ? "figures" : "");
    }
    out.close().close();
    return new Table(out);
  }

  /** A row of text. */
  Table row(String... cells) {
    begin();
    for (String cell : cells) {
      cell(cell);
    }
    return end();
  }

  /** Begins a row; cells follow. */
  public Table begin() {
    if (first) {
      out.open("tbody");
      first = false;
    }
    out.line().open("tr");
    return this;
  }

  /** A head of one word, such as a serial number, is not broken. */
  public Table head(String text) {
    boolean word = text.length() <= LONG && text.indexOf(' ') < 0;
    out.element("th", text, "scope", "row", "class", word ? "short" : "");
    return this;
  }

  /** A head over several columns. */
  Table head(String text, int columns) {
    out.element("th", text, "scope", "row", "colspan", String.valueOf(columns));
    return this;
  }

  /** The head of a row, written by hand. */
  public Table head(Consumer<Markup> content) {
    out.open("th", "scope", "row");
    content.accept(out);
    out.close();
    return this;
  }

  /** A cell of words over several columns. */
  Table over(Consumer<Markup> content, int columns) {
    out.open("td", "colspan", String.valueOf(columns));
    content.accept(out);
    out.close();
    return this;
  }

  /** A cell of words. */
  public Table cell(String text) {
    out.element("td", text);
    return this;
  }

  /** Figures stay on one line where they are short enough. */
  public Table figures(String text) {
    out.element("td", text, "class", text.length() > LONG ? "figures" : "figures short");
    return this;
  }

  /** Figures that may go on in a second line. */
  Table folding(String text) {
    out.element("td", text, "class", "figures");
    return this;
  }

  /** A cell that is written by hand. */
  public Table cell(Consumer<Markup> content) {
    out.open("td");
    content.accept(out);
    out.close();
    return this;
  }

  /** Ends a row. */
  public Table end() {
    out.close();
    return this;
  }

  /** Begins a group of rows under a head of its own; it stays together in print where it fits. */
  Table group(String head, int columns) {
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
