// SPDX-License-Identifier: Apache-2.0
package millrace.report.label;

import java.io.Writer;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalInt;
import java.util.stream.IntStream;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.quantity.NumberText;
import millrace.report.markup.Markup;
import millrace.report.plot.TextWidths;

/**
 * Label of a unit as a drawing in millimetres: serial number, outcome, test date, due date, and a
 * code with the run and its digest. Each line is as large as its space allows. Immutable.
 */
public final class UnitLabel {
  /** Smallest legible letter size (common practice, no source), mm. */
  private static final double LEAST_LETTER_MM = 1.4;

  /**
   * Smallest module that a thermal printer prints and a telephone reads reliably (common practice),
   * mm.
   */
  private static final double LEAST_MODULE_MM = 0.33;

  /** Margin that many label printers leave unprinted (common practice, no source), mm. */
  private static final double EDGE_MM = 1.5;

  private static final double SERIAL_MM = 5;
  private static final double OUTCOME_MM = 4.4;
  private static final double LINE_MM = 3.1;
  private static final double LEADING = 1.2;

  private static final double ISSUER_MM = 2.6;

  /** Smallest letter size for a name on one line; a longer name is split into two lines, mm. */
  private static final double WHOLE_MM = 1.8;

  /**
   * Share of the width to use, since the actual font may be wider than the font of the known
   * widths.
   */
  private static final double PLAIN_ROOM = 0.92;

  /** Share of the width to use for bold letters, which are wider. */
  private static final double BOLD_ROOM = 0.84;

  private final LabelText text;
  private final LabelSize size;
  private final QrCode code;

  private UnitLabel(LabelText text, LabelSize size) {
    this.text = text;
    this.size = size;
    this.code = QrCode.of(text.code());
  }

  /** A line and its letter size. */
  private record Line(String words, double letterMm, boolean bold) {}

  /** The area of the words, mm. */
  private record Room(double x, double y, double width, double height) {}

  /**
   * Lays out a label.
   *
   * @param text words of the label
   * @param size size of the label
   * @return the label
   * @throws BadInputException if its words or its code would be too small to read
   */
  public static UnitLabel of(LabelText text, LabelSize size) {
    UnitLabel label = new UnitLabel(text, size);
    label.refuseWhatIsTooSmall();
    return label;
  }

  private void refuseWhatIsTooSmall() {
    double module = side() / code.side();
    double letter = lines().stream().mapToDouble(Line::letterMm).min().orElse(0);
    if (module < LEAST_MODULE_MM || letter < LEAST_LETTER_MM) {
      throw new BadInputException(
          new InputFault(
              FilePlace.of("--size"),
              "%sx%smm leaves modules of %s mm and letters of %s mm"
                  .formatted(
                      size.widthMm(),
                      size.heightMm(),
                      NumberText.fixed(module, 2),
                      NumberText.fixed(letter, 1)),
              "modules of %s mm and letters of %s mm at least, which are read"
                  .formatted(LEAST_MODULE_MM, LEAST_LETTER_MM),
              "Take a larger label; 62x29mm is enough for most."));
    }
  }

  /**
   * The side of the code with its quiet zone, mm; the margin of the printer counts as part of that
   * zone.
   */
  private double side() {
    return size.lying()
        ? Math.min(size.heightMm(), size.widthMm() / 2.0)
        : Math.min(size.widthMm(), size.heightMm() / 2.0);
  }

  private Room room() {
    double side = side();
    return size.lying()
        ? new Room(side, EDGE_MM, size.widthMm() - side - EDGE_MM, size.heightMm() - 2 * EDGE_MM)
        : new Room(EDGE_MM, side, size.widthMm() - 2 * EDGE_MM, size.heightMm() - side - EDGE_MM);
  }

  private List<Line> lines() {
    List<Line> lines = new ArrayList<>();
    List<String> issuer = text.issuer().map(this::broken).orElse(List.of());
    double all = SERIAL_MM + OUTCOME_MM + LINE_MM * text.lines().size() + ISSUER_MM * issuer.size();
    double shrink = room().height() / LEADING / all;
    add(lines, List.of(text.serial()), SERIAL_MM * shrink, true);
    add(lines, List.of(text.outcome()), OUTCOME_MM * shrink, true);
    add(lines, text.lines(), LINE_MM * shrink, false);
    if (!issuer.isEmpty()) {
      double above = lines.get(lines.size() - 1).letterMm();
      add(lines, issuer, Math.min(ISSUER_MM * shrink, above), false);
    }
    return lines;
  }

  /** Splits a long name into two lines, at the blank nearest to its middle. */
  private List<String> broken(String name) {
    double mm = PLAIN_ROOM * room().width() / TextWidths.width(name, 1);
    int middle = name.length() / 2;
    OptionalInt blank =
        IntStream.range(0, name.length())
            .filter(i -> name.charAt(i) == ' ')
            .boxed()
            .min(Comparator.comparingInt(i -> Math.abs(i - middle)))
            .stream()
            .mapToInt(i -> i)
            .findFirst();
    return mm >= WHOLE_MM || blank.isEmpty()
        ? List.of(name)
        : List.of(name.substring(0, blank.getAsInt()), name.substring(blank.getAsInt() + 1));
  }

  /** Adds lines of one letter size: the wanted size, or less if the longest line needs it. */
  private void add(List<Line> lines, List<String> words, double wantedMm, boolean bold) {
    double room = room().width() * (bold ? BOLD_ROOM : PLAIN_ROOM);
    double longest = words.stream().mapToDouble(w -> TextWidths.width(w, 1)).max().orElse(1);
    words.forEach(w -> lines.add(new Line(w, Math.min(wantedMm, room / longest), bold)));
  }

  /**
   * Writes the label as an SVG file.
   *
   * @param target destination, UTF-8; stays open
   */
  public void svg(Writer target) {
    Markup out = Markup.to(target);
    draw(out, "xmlns", "http://www.w3.org/2000/svg");
    out.end();
  }

  /**
   * Writes the label as a page of the same size, the source of a PDF.
   *
   * @param target destination; stays open
   */
  public void page(Writer target) {
    Markup out = Markup.to(target);
    out.documentType().open("html", "lang", "en").open("head");
    out.element("title", title());
    out.element(
        "style",
        "@page { size: %smm %smm; margin: 0; } body { margin: 0; } svg { display: block; }"
            .formatted(size.widthMm(), size.heightMm()));
    out.close().open("body");
    draw(out, "class", "label");
    out.close().close();
    out.end();
  }

  private String title() {
    return "Label of unit " + text.serial();
  }

  private void draw(Markup out, String name, String value) {
    out.open(
        "svg",
        name,
        value,
        "width",
        size.widthMm() + "mm",
        "height",
        size.heightMm() + "mm",
        "viewBox",
        "0 0 " + size.widthMm() + " " + size.heightMm(),
        "font-family",
        "'Liberation Sans', Arial, Helvetica, 'DejaVu Sans', sans-serif");
    out.element("title", title());
    out.element("desc", text.outcome() + ", " + String.join(", ", text.lines()));
    out.lone(
        "rect",
        "width",
        String.valueOf(size.widthMm()),
        "height",
        String.valueOf(size.heightMm()),
        "fill",
        "#ffffff");
    drawCode(out);
    drawWords(out);
    out.close();
  }

  private void drawCode(Markup out) {
    double x = size.lying() ? 0 : (size.widthMm() - side()) / 2;
    double y = size.lying() ? (size.heightMm() - side()) / 2 : 0;
    out.lone(
        "path",
        "transform",
        "translate(%s %s) scale(%s)".formatted(mm(x), mm(y), mm(side() / code.side())),
        "d",
        code.path(),
        "fill",
        "#000000",
        "shape-rendering",
        "crispEdges");
  }

  private void drawWords(Markup out) {
    double height = lines().stream().mapToDouble(l -> l.letterMm() * LEADING).sum();
    double y = room().y() + (room().height() - height) / 2;
    for (Line line : lines()) {
      double letter = line.letterMm();
      y += letter * LEADING;
      out.element(
          "text",
          line.words(),
          "x",
          mm(room().x()),
          "y",
          mm(y - letter * (LEADING - 1)),
          "font-size",
          mm(letter),
          "font-weight",
          line.bold() ? "bold" : "normal",
          "fill",
          "#000000");
    }
  }

  private static String mm(double value) {
    return NumberText.fixed(value, 4);
  }
}
