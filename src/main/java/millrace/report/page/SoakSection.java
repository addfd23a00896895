// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.List;
import millrace.assessment.series.SoakStudy;
import millrace.report.chart.SmallMultiples;
import millrace.report.chart.SoakCharts;
import millrace.report.plot.Chart;
import millrace.report.plot.PrintedUnitSymbols;

/** Soak of the unit at each temperature, and the decision on its end. */
final class SoakSection {
  private SoakSection() {}

  static void write(ReportContext sheet) {
    List<SoakStudy> soaks = sheet.assessment().soaks();
    if (soaks.isEmpty()) {
      return;
    }
    sheet
        .section("Soak at each temperature", "soaks")
        .paragraph(
            "How the unit came to each temperature since the chamber was set to it; \u2018soak"
                + " over\u2019 is where it was decided that what was still to come is small"
                + " enough.");
    sheet.multiples(
        new SmallMultiples(
            "Current, less where it ended",
            "",
            soaks.stream()
                .map(s -> panel(SoakCharts.current(s, sheet.stamp()), SoakCharts.ended(s)))
                .toList()));
    sheet.multiples(
        new SmallMultiples(
            "Temperature of the unit, and what the chamber was set to",
            "",
            soaks.stream().map(s -> panel(SoakCharts.temperature(s, sheet.stamp()), "")).toList()));
    sheet.end();
  }

  private static SmallMultiples.Panel panel(Chart chart, String caption) {
    return new SmallMultiples.Panel(chart, PrintedUnitSymbols.of(caption), "", "");
  }
}
