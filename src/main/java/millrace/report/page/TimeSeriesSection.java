// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.List;
import millrace.assessment.series.TimeRecordStudy;
import millrace.report.chart.TimeSeriesCharts;

/** Currents over time: charts of drift, noise and Allan deviation. */
final class TimeSeriesSection {
  /** Most records with charts; more are given in figures only. */
  private static final int MOST = 12;

  private TimeSeriesSection() {}

  static void write(ReportContext sheet) {
    List<TimeRecordStudy> records =
        sheet.assessment().records().stream().filter(r -> r.series().durationS() > 0).toList();
    if (records.isEmpty()) {
      return;
    }
    sheet.section("Current over time", "records");
    records.stream()
        .limit(MOST)
        .forEach(r -> charts(sheet, new TimeSeriesCharts(r, sheet.stamp())));
    if (records.size() > MOST) {
      sheet.paragraph(
          "The first %s of %s records are drawn; the table of results has all."
              .formatted(MOST, records.size()));
    }
    sheet.end();
  }

  private static void charts(ReportContext sheet, TimeSeriesCharts charts) {
    sheet.chart(charts.drift()).chart(charts.noise());
    charts.allan().ifPresent(sheet::chart);
  }
}
