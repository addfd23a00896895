// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.report.markup.Markup;

/** One legend for several plots. Stateless. */
public final class SharedPlotLegend {
  private static final double WIDTH = 658;
  private static final double NARROW = 330;

  private SharedPlotLegend() {}

  /**
   * Writes the legend twice: as wide as a page, and for a narrow screen. The style sheet shows one
   * of them.
   *
   * @param out the page
   * @param charts plots of the legend
   */
  public static void write(Markup out, List<Chart> charts) {
    Map<String, Mark> marks = new LinkedHashMap<>();
    charts.stream()
        .flatMap(c -> c.marks().stream())
        .forEach(m -> m.legend().ifPresent(words -> marks.putIfAbsent(words, m)));
    if (!marks.isEmpty()) {
      write(out, new ArrayList<>(marks.values()), WIDTH, "key");
      write(out, new ArrayList<>(marks.values()), NARROW, "key narrow");
    }
  }

  private static void write(Markup out, List<Mark> marks, double widthPx, String kind) {
    Legend legend = Legend.of(marks, widthPx);
    SvgWriter svgWriter = new SvgWriter(out);
    String width = SvgWriter.px(widthPx);
    String height = SvgWriter.px(legend.heightPx());
    out.line()
        .open(
            "svg",
            "class",
            kind,
            "viewBox",
            "0 0 " + width + " " + height,
            "width",
            width,
            "height",
            height,
            "role",
            "img",
            "aria-label",
            "Key of the plots below",
            "font-family",
            SvgWriter.FACE);
    legend.write(Canvas.forSamples(svgWriter), svgWriter, 0);
    out.close();
  }
}
