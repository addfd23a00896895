// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.List;
import millrace.assessment.series.SoakStudy;
import millrace.report.chart.SoakCharts;

/** How the unit came to each temperature, and when that was decided to be over. */
final class SoakSection {
  private SoakSection() {}

  static void write(Sheet sheet) {
    List<SoakStudy> soaks = sheet.assessment().soaks();
    if (soaks.isEmpty()) {
      return;
    }
    sheet.section("Soak at each temperature", "soaks");
    for (SoakStudy soak : soaks) {
      sheet.out().line().open("div", "class", "pairs kept");
      sheet
          .paragraph(
              "Stay "
                  + (soak.stay() + 1)
                  + ", chamber set to "
                  + SoakCharts.degrees(soak)
                  + ": "
                  + SoakCharts.ended(soak))
          .chart(SoakCharts.current(soak, sheet.stamp()))
          .chart(SoakCharts.temperature(soak, sheet.stamp()))
          .end();
    }
    sheet.end();
  }
}
