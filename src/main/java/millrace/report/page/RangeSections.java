// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.analysis.response.Box;
import millrace.analysis.response.RangeResponse;
import millrace.assessment.Assessment;
import millrace.assessment.Predictions;
import millrace.assessment.range.LoadStudy;
import millrace.assessment.range.RangeStudy;
import millrace.evidence.AtKey;
import millrace.evidence.Limit;
import millrace.evidence.Outcome;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.quantity.Dimension;
import millrace.quantity.Quantities;
import millrace.report.chart.Directions;
import millrace.report.chart.LoadCharts;
import millrace.report.chart.ResponseCharts;
import millrace.report.chart.TemperatureCharts;
import millrace.report.plot.Chart;
import millrace.report.plot.Mark;
import millrace.report.plot.Symbols;
import millrace.report.words.Figures;

/** One section per range: how its current stands against load and temperature, in pictures. */
final class RangeSections {
  private static final double SAME_K = 0.5;

  private final Sheet sheet;
  private final Assessment assessment;
  private final Directions directions;

  private RangeSections(Sheet sheet) {
    this.sheet = sheet;
    this.assessment = sheet.assessment();
    this.directions = new Directions(sheet.run().points());
  }

  static void write(Sheet sheet) {
    RangeSections sections = new RangeSections(sheet);
    sections.ranges().forEach(sections::range);
  }

  /** The datasheet's order first, then whatever else was measured. */
  private Set<String> ranges() {
    Set<String> seen = new LinkedHashSet<>();
    assessment.loads().forEach(l -> seen.add(l.range()));
    assessment.temperatures().forEach(t -> seen.add(t.range()));
    Set<String> ordered = new LinkedHashSet<>();
    assessment.basis().datasheet().ifPresent(d -> ordered.addAll(d.ranges().keySet()));
    ordered.retainAll(seen);
    ordered.addAll(seen);
    return ordered;
  }

  private void range(String range) {
    sheet.section(
        "Range " + range + nominal(range),
        "range-" + (Places.ranges(assessment).indexOf(range) + 1));
    List<LoadStudy> loads =
        assessment.loads().stream().filter(l -> l.range().equals(range)).toList();
    loads.stream().min(Comparator.comparingDouble(this::fromReference)).ifPresent(this::main);
    assessment.temperatures().stream()
        .filter(t -> t.range().equals(range))
        .filter(t -> t.study().points().size() > 1)
        .forEach(this::temperature);
    response(range);
    others(loads);
    sheet.end();
  }

  private String nominal(String range) {
    return assessment
        .basis()
        .datasheet()
        .flatMap(d -> d.range(range))
        .map(r -> ", nominal " + Symbols.of(Quantities.print(r.nominalA(), Dimension.CURRENT)))
        .orElse("");
  }

  private double fromReference(LoadStudy study) {
    double reference = assessment.basis().referenceDegC();
    return Math.abs(study.temperatureDegC().orElse(reference) - reference);
  }

  private void main(LoadStudy study) {
    LoadCharts charts = charts(study);
    sheet.chart(charts.whole());
    charts.knee().ifPresent(sheet::chart);
    charts.linearity().ifPresent(sheet::chart);
    sheet.chart(charts.residuals(Chart.Size.STRIP)).list(study.curve().notes());
  }

  private LoadCharts charts(LoadStudy study) {
    LoadCharts.Found found =
        new LoadCharts.Found(
            upright(study, ResultQuantity.COMPLIANCE_VOLTAGE, "compliance voltage "),
            upright(study, ResultQuantity.KNEE_VOLTAGE, "knee of two straight lines "),
            directions);
    return new LoadCharts(study, found, sheet.stamp());
  }

  private Optional<Mark.Upright> upright(LoadStudy study, ResultQuantity quantity, String words) {
    double sign = study.curve().question().nominalA() < 0 ? -1 : 1;
    return assessment.results().stream()
        .filter(r -> r.quantity() == quantity && belongs(r, study))
        .flatMap(r -> upright(r, words, sign).stream())
        .findFirst();
  }

  private static Optional<Mark.Upright> upright(Result result, String words, double sign) {
    if (!(result.outcome() instanceof Outcome.Value v)) {
      return Optional.empty();
    }
    String label = words + Symbols.of(Figures.inWords(result));
    double half = v.uncertainty().map(Outcome.Uncertainty::expanded).orElse(0.0);
    return Optional.of(new Mark.Upright(label, sign * Math.abs(v.value()), half));
  }

  private static boolean belongs(Result r, LoadStudy study) {
    return r.range().equals(Optional.of(study.range()))
        && near(r.at().number(AtKey.TEMPERATURE_DEGC), study.temperatureDegC())
        && near(r.at().number(AtKey.SUPPLY_V), study.supplyV());
  }

  private static boolean near(OptionalDouble a, OptionalDouble b) {
    return a.isEmpty() || b.isEmpty() || Math.abs(a.getAsDouble() - b.getAsDouble()) < SAME_K;
  }

  private void temperature(RangeStudy study) {
    Optional<String> slope =
        assessment.results().stream()
            .filter(r -> r.quantity() == ResultQuantity.TEMPCO)
            .filter(r -> r.range().equals(Optional.of(study.range())))
            .findFirst()
            .flatMap(Figures::stated)
            .map(Symbols::of);
    sheet.chart(TemperatureCharts.of(study, slope, sheet.stamp()));
    TemperatureCharts.residuals(study, sheet.stamp()).ifPresent(sheet::chart);
  }

  /** What the range does between the measured conditions, where more than one was measured. */
  private void response(String range) {
    Optional<RangeResponse> own = assessment.response().range(range);
    Optional<Box> box = new Predictions(assessment, false).box(range);
    if (own.isPresent() && box.isPresent() && own.get().temperatureKnown()) {
      new ResponseCharts(own.get(), box.get(), limitPpm(own.get()), sheet.stamp())
          .charts()
          .forEach(sheet::chart);
      sheet.list(own.get().notes());
    }
  }

  private Optional<Limit> limitPpm(RangeResponse response) {
    return new Predictions(assessment, false)
        .limit(response.range())
        .map(l -> l.limit(response.nominalA()));
  }

  /** What the other sweeps leave over, small, side by side. */
  private void others(List<LoadStudy> loads) {
    List<LoadStudy> rest = new ArrayList<>(loads);
    loads.stream().min(Comparator.comparingDouble(this::fromReference)).ifPresent(rest::remove);
    if (rest.isEmpty()) {
      return;
    }
    sheet.out().open("div", "class", "pairs");
    sheet.heading("The other load sweeps of this range");
    rest.forEach(l -> sheet.chart(charts(l).residuals(Chart.Size.HALF)));
    sheet.end();
  }
}
