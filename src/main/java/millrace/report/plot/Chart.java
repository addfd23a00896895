// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import java.io.StringWriter;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import millrace.report.markup.Markup;

/**
 * Plot with words, two axes, and marks. It is inline SVG that scales with the page; its words are
 * text, so that they can be searched and read aloud.
 *
 * <p>Immutable value type, thread-safe.
 *
 * @param words title and description
 * @param across the horizontal axis
 * @param up the vertical axis
 * @param marks the marks; levels are labelled from the top in falling order
 * @param size size of the plot
 */
public record Chart(Words words, Axis across, Axis up, List<Mark> marks, Size size) {
  private static final String SVG = "http://www.w3.org/2000/svg";

  private static final double AIR = 10;
  private static final double TICK = 5;
  private static final double ROOM_UP = 18;

  /** Copies the list. */
  public Chart {
    marks = List.copyOf(marks);
  }

  /**
   * Title and description of a plot.
   *
   * @param title title, one line above the plot
   * @param description description of the content, for readers who cannot see it
   * @param stamp a word that the plot must show, such as the mark of a simulation
   */
  public record Words(String title, String description, Optional<String> stamp) {}

  /**
   * Size of a plot, px; the width of a page is 658 px.
   *
   * @param widthPx width, above 200
   * @param heightPx height of the frame, above 40; labels and title add to it
   * @param keyed whether the plot has its own legend; otherwise a {@link SharedPlotLegend} beside
   *     several plots explains the marks
   */
  public record Size(double widthPx, double heightPx, boolean keyed) {
    /** The width of a page. */
    public static final Size PAGE = new Size(658, 150, true);

    /** The width of a page, with a low frame. */
    public static final Size STRIP = new Size(658, 90, true);

    /** Half the width of a page. */
    public static final Size HALF = new Size(322, 130, true);

    /** One of several similar plots with a shared legend, three across a page. */
    public static final Size MULTIPLE = new Size(226, 90, false);

    /** One of several similar plots, with a low frame. */
    public static final Size LOW = new Size(226, 70, false);

    /** One of several similar plots, two across a page. */
    public static final Size PAIR = new Size(335, 84, false);

    /** Checks that the plot is large enough. */
    public Size {
      if (!(widthPx > 200 && heightPx > 40)) {
        throw new IllegalArgumentException(
            "a plot of %s by %s px is too small".formatted(widthPx, heightPx));
      }
    }
  }

  /**
   * Writes the plot.
   *
   * @param out the page
   * @param id an id that is unique on the page
   */
  public void write(Markup out, String id) {
    new Drawing(this, new SvgWriter(out)).write(id);
  }

  /**
   * The plot as a separate file (SVG 1.1, W3C 2011).
   *
   * @return the text of the file
   */
  public String asFile() {
    StringWriter text = new StringWriter();
    Markup out = Markup.to(text);
    write(out, "chart");
    out.end();
    return text.toString().strip().replaceFirst("<svg ", "<svg xmlns=\"" + SVG + "\" ") + "\n";
  }

  /** Layout and drawing of one chart, step by step. */
  private static final class Drawing {
    private final Chart chart;
    private final SvgWriter svgWriter;
    private final Legend legend;
    private final Axis.Drawn up;
    private final Axis.Drawn across;
    private final PlotLabelPlacement labels;
    private final PlotFrame frame;
    private final double legendTop;
    private final double heightPx;

    Drawing(Chart chart, SvgWriter svgWriter) {
      this.chart = chart;
      this.svgWriter = svgWriter;
      AxisExtent x = new AxisExtent(chart.across.logarithmic());
      AxisExtent y = new AxisExtent(chart.up.logarithmic());
      chart.marks.forEach(m -> m.claim(new Canvas.Extents(x, y)));
      this.up = chart.up.drawn(y, new Axis.Paper(chart.size.heightPx(), 34, label -> ROOM_UP));
      double left = 24 + widest(up.ticks()) + TICK + 3;
      double right = chart.size.widthPx() - gutter();
      this.across = chart.across.drawn(x, new Axis.Paper(right - left, 58, Drawing::roomAcross));
      this.legendTop =
          TitleLines.height(chart.words.title(), chart.words.stamp(), chart.size.widthPx());
      this.legend = Legend.of(chart.size.keyed() ? chart.marks : List.of(), chart.size.widthPx());
      double labelTop = legendTop + legend.heightPx() + 4;
      PlotLabelPlacement measured = labels(labelTop, left, right, labelTop + 1000);
      double bottom = measured.frame().top() + chart.size.heightPx();
      this.labels = labels(labelTop, left, right, bottom);
      this.frame = labels.frame();
      this.heightPx = bottom + 42 + belowPx();
    }

    /** The lines of a number or name below the frame; names are broken if they would touch. */
    private List<String> below(Tick tick) {
      if (!chart.across.isNamed()) {
        return List.of(tick.label());
      }
      long names = across.ticks().stream().filter(t -> !t.label().isEmpty()).count();
      return TextWidths.wrapped(tick.label(), SvgWriter.SMALL, frame.width() / names - AIR);
    }

    /** The height of the further lines of names. */
    private double belowPx() {
      int most = across.ticks().stream().mapToInt(t -> below(t).size()).max().orElse(1);
      return (most - 1) * PlotLabelPlacement.LINE;
    }

    private static double roomAcross(String label) {
      return TextWidths.width(label, SvgWriter.SMALL) + AIR;
    }

    private PlotLabelPlacement labels(double top, double left, double right, double bottom) {
      List<UprightLine> lines =
          chart.marks.stream()
              .filter(Mark.Upright.class::isInstance)
              .map(m -> ((Mark.Upright) m).line())
              .toList();
      return PlotLabelPlacement.of(
          lines, across, new PlotLabelPlacement.Place(top, left, right, bottom, svgWriter));
    }

    private double gutter() {
      boolean levels =
          chart.marks.stream().anyMatch(m -> m instanceof Mark.Level l && !l.label().isEmpty());
      return levels ? PlotLabelPlacement.GUTTER : 2 * AIR;
    }

    private static double widest(List<Tick> ticks) {
      return ticks.stream()
          .mapToDouble(t -> TextWidths.width(t.label(), SvgWriter.SMALL))
          .max()
          .orElse(0);
    }

    void write(String id) {
      svgWriter.open(id, spokenTitle(), chart.words.description(), chart.size.widthPx(), heightPx);
      TitleLines.write(chart.words.title(), chart.words.stamp(), chart.size.widthPx(), svgWriter);
      axes();
      marks();
      svgWriter.out().close();
    }

    private String spokenTitle() {
      return chart.words.stamp().map(s -> s + ": ").orElse("") + chart.words.title();
    }

    private void axes() {
      for (Tick t : across.ticks()) {
        double x = frame.x(across.share(t.value()));
        svgWriter.line(x, frame.top(), x, frame.bottom(), SvgWriter.Stroke.GRID);
        svgWriter.line(x, frame.bottom(), x, frame.bottom() + reach(t), SvgWriter.Stroke.FRAME);
        List<String> lines = below(t);
        for (int i = 0; i < lines.size(); i++) {
          number(
              lines.get(i),
              x,
              frame.bottom() + 18 + i * PlotLabelPlacement.LINE,
              SvgWriter.Anchor.MIDDLE);
        }
      }
      for (Tick t : up.ticks()) {
        double y = frame.y(up.share(t.value()));
        svgWriter.line(frame.left(), y, frame.right(), y, SvgWriter.Stroke.GRID);
        svgWriter.line(frame.left() - reach(t), y, frame.left(), y, SvgWriter.Stroke.FRAME);
        number(t.label(), frame.left() - TICK - 3, y + 4, SvgWriter.Anchor.END);
      }
      svgWriter.line(
          frame.left(), frame.top(), frame.left(), frame.bottom(), SvgWriter.Stroke.FRAME);
      svgWriter.line(
          frame.left(), frame.bottom(), frame.right(), frame.bottom(), SvgWriter.Stroke.FRAME);
      double middle = (frame.left() + frame.right()) / 2;
      svgWriter.text(
          across.title(), middle, frame.bottom() + 35 + belowPx(), SvgWriter.Anchor.MIDDLE);
      svgWriter.rising(up.title(), 13, (frame.top() + frame.bottom()) / 2);
    }

    private static double reach(Tick tick) {
      return tick.label().isEmpty() ? TICK / 2 : TICK;
    }

    private void number(String label, double x, double y, SvgWriter.Anchor anchor) {
      if (!label.isEmpty()) {
        svgWriter.text(label, x, y, anchor);
      }
    }

    private void marks() {
      Canvas canvas = new Canvas(svgWriter, frame, across, up, labels);
      List<Mark> ordered = new ArrayList<>(chart.marks);
      ordered.sort(Comparator.comparingInt(Drawing::depth).thenComparing(Drawing::falling));
      ordered.forEach(m -> m.draw(canvas));
      legend.write(canvas, svgWriter, legendTop);
    }

    /** The drawing order: marks in the background come first. */
    private static int depth(Mark mark) {
      return mark instanceof Mark.Band
          ? 0
          : mark instanceof Mark.Points ? 3 : mark instanceof Mark.Curve ? 2 : 1;
    }

    private static int falling(Mark a, Mark b) {
      return a instanceof Mark.Level one && b instanceof Mark.Level two
          ? Double.compare(two.y(), one.y())
          : 0;
    }
  }
}
