// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.stream.Stream;
import millrace.analysis.response.PromisedConditionBox;
import millrace.analysis.response.RangeResponse;
import millrace.assessment.Assessment;
import millrace.assessment.Predictions;
import millrace.assessment.range.LoadSweepStudy;
import millrace.assessment.range.RangeTemperatureStudy;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Limit;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultQuantity;
import millrace.quantity.NumberText;
import millrace.report.chart.LoadCharts;
import millrace.report.chart.PointsBySweepDirection;
import millrace.report.chart.ResidualCharts;
import millrace.report.chart.ResponseCharts;
import millrace.report.chart.SmallMultiples;
import millrace.report.chart.TemperatureCharts;
import millrace.report.plot.Chart;
import millrace.report.plot.Mark;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.words.BoxJudgementWords;
import millrace.report.words.ResultConditionWords;
import millrace.report.words.ResultFigures;

/**
 * Charts of the currents against load, temperature, and both: one section per kind of chart, all
 * ranges side by side.
 */
final class RangeSections {
  private static final double SAME_K = 0.5;

  private final ReportContext sheet;
  private final Assessment assessment;
  private final ReportAnchors places;
  private final List<String> ranges;
  private final PointsBySweepDirection directions;

  private RangeSections(ReportContext sheet) {
    this.sheet = sheet;
    this.assessment = sheet.assessment();
    this.places = sheet.anchors();
    this.ranges = ReportAnchors.ranges(assessment);
    this.directions = sheet.points().directions();
  }

  static void write(ReportContext sheet) {
    RangeSections sections = new RangeSections(sheet);
    sections.load();
    sections.temperature();
    sections.response();
  }

  /** Writes the state of the last load sweep of a range. */
  static void lastSweep(ReportContext sheet, String range) {
    new RangeSections(sheet).lastSweep(range);
  }

  private void lastSweep(String range) {
    List<LoadSweepStudy> own =
        assessment.loads().stream().filter(l -> l.range().equals(range)).toList();
    if (own.isEmpty()) {
      return;
    }
    LoadSweepStudy last = own.get(own.size() - 1);
    LoadCharts charts = charts(last);
    ResidualCharts residuals = new ResidualCharts(Map.of(range, List.of(charts)), sheet.stamp());
    List<SmallMultiples.Panel> panels = new ArrayList<>();
    panels.add(panel("plateau", range, charts.plateau(limit(range)), plateau(last)));
    charts.knee().ifPresent(c -> panels.add(panel("knee", range, c, knee(last, charts))));
    panels.add(panel("", range, residuals.of(range), "What the plateau line leaves over"));
    sheet.multiples(new SmallMultiples("Range " + range + at(last), "", panels));
  }

  private static String at(LoadSweepStudy study) {
    return study.temperatureDegC().isPresent()
        ? ", unit at "
            + NumberText.fixed(study.temperatureDegC().getAsDouble(), 1)
            + "\u00a0\u00b0C"
        : "";
  }

  /** Writes the charts of several kinds as one section. */
  private void section(String heading, String kind, List<SmallMultiples> all, List<String> notes) {
    List<SmallMultiples> drawn = all.stream().filter(m -> !m.panels().isEmpty()).toList();
    if (drawn.isEmpty()) {
      return;
    }
    sheet.section(heading, kind);
    drawn.forEach(sheet::multiples);
    sheet.list(notes).end();
  }

  private void load() {
    Map<String, List<LoadCharts>> sweeps = new LinkedHashMap<>();
    List<SmallMultiples.Panel> plateaus = new ArrayList<>();
    List<SmallMultiples.Panel> knees = new ArrayList<>();
    List<SmallMultiples.Panel> lines = new ArrayList<>();
    for (String range : ranges) {
      List<LoadSweepStudy> own =
          assessment.loads().stream().filter(l -> l.range().equals(range)).toList();
      if (!own.isEmpty()) {
        sweeps.put(range, own.stream().map(this::charts).toList());
        LoadSweepStudy main = main(own);
        LoadCharts charts = charts(main);
        plateaus.add(panel("plateau", range, charts.plateau(limit(range)), plateau(main)));
        charts.knee().ifPresent(c -> knees.add(panel("knee", range, c, knee(main, charts))));
        charts.linearity().ifPresent(c -> lines.add(panel("linearity", range, c, linearity(main))));
      }
    }
    ResidualCharts residuals = new ResidualCharts(sweeps, sheet.stamp());
    section(
        "Against the load",
        "load",
        List.of(
            new SmallMultiples(
                "The plateau",
                "Current less that of the plateau line at 0 V, in ppm of nominal, on the stay"
                    + " nearest to the reference temperature; the knee has pictures of its own. A"
                    + " limit of load regulation that is not drawn lies far out of the picture.",
                plateaus),
            new SmallMultiples(
                "The knee",
                "How the current falls where the compliance voltage is reached, in per cent.",
                knees),
            new SmallMultiples(
                "Linearity",
                "What the means of each load deviate from the straight line that makes the largest"
                    + " deviation smallest, and two other lines against which linearity is stated.",
                lines),
            new SmallMultiples(
                "What the plateau lines leave over",
                "All stays beside one another, on one scale for all ranges: a bend, a step between"
                    + " the directions or a wild point would show.",
                sweeps.entrySet().stream()
                    .map(
                        e ->
                            panel(
                                "",
                                e.getKey(),
                                residuals.of(e.getKey()),
                                NumberText.counted(e.getValue().size(), "stay")
                                    + ", n = "
                                    + plateauPoints(e.getKey())
                                    + " points"))
                    .toList())),
        noted(assessment.loads(), l -> "Range " + l.range(), l -> l.curve().notes()));
  }

  private long plateauPoints(String range) {
    return assessment.loads().stream()
        .filter(l -> l.range().equals(range))
        .mapToLong(l -> l.curve().plateau().size())
        .sum();
  }

  /** A panel with the anchor that results link to; without an anchor if none does. */
  private SmallMultiples.Panel panel(String what, String range, Chart chart, String caption) {
    String name = what.isEmpty() ? "" : places.picture(what, range);
    return new SmallMultiples.Panel(chart, caption, name, places.results(Optional.of(range)));
  }

  /** Notes, each once and after the name of its study. */
  private static <T> List<String> noted(
      List<T> studies, Function<T, String> whose, Function<T, List<String>> notes) {
    Set<String> all = new TreeSet<>();
    studies.forEach(s -> notes.apply(s).forEach(n -> all.add(whose.apply(s) + ": " + n + ".")));
    return List.copyOf(all);
  }

  private LoadSweepStudy main(List<LoadSweepStudy> studies) {
    double reference = assessment.basis().referenceDegC();
    return studies.stream()
        .min(
            (a, b) ->
                Double.compare(
                    Math.abs(a.temperatureDegC().orElse(reference) - reference),
                    Math.abs(b.temperatureDegC().orElse(reference) - reference)))
        .orElseThrow();
  }

  private String plateau(LoadSweepStudy study) {
    return said(
        Stream.of(
            "n = " + study.curve().plateau().size() + " points",
            stated(study, ResultQuantity.LOAD_REGULATION)));
  }

  private String knee(LoadSweepStudy study, LoadCharts charts) {
    return said(
        Stream.of(
            charts.deeper() == 0 ? "" : NumberText.counted(charts.deeper(), "point") + " deeper",
            stated(study, ResultQuantity.COMPLIANCE_VOLTAGE),
            stated(study, ResultQuantity.KNEE_VOLTAGE)));
  }

  private String linearity(LoadSweepStudy study) {
    return said(
        Stream.of(
            "n = " + study.curve().means().size() + " loads",
            stated(study, ResultQuantity.LINEARITY_INDEPENDENT)));
  }

  private static String said(Stream<String> words) {
    return String.join("; ", words.filter(w -> !w.isEmpty()).toList());
  }

  /** A result of a sweep in words, with its limit; empty text if there is none. */
  private String stated(LoadSweepStudy study, ResultQuantity quantity) {
    return assessment.results().stream()
        .filter(r -> r.quantity() == quantity && belongs(r, study))
        .findFirst()
        .map(RangeSections::stated)
        .orElse("");
  }

  private static String stated(Result r) {
    String limit =
        r.judgement()
            .map(j -> ", limit " + ResultFigures.limit(j.limit(), r.quantity().unit()))
            .orElse("");
    return PrintedUnitSymbols.of(r.quantity().inWords() + " " + ResultFigures.inWords(r) + limit);
  }

  /** The judged result of a range; without one, any result. */
  private Optional<Result> found(String range, ResultQuantity quantity) {
    List<Result> all =
        assessment.results().stream()
            .filter(r -> r.quantity() == quantity && r.range().equals(Optional.of(range)))
            .toList();
    return all.stream()
        .filter(r -> r.judgement().isPresent())
        .findFirst()
        .or(() -> all.stream().findFirst());
  }

  private Optional<Limit> limit(String range) {
    return limit(range, ResultQuantity.LOAD_REGULATION);
  }

  private Optional<Limit> limit(String range, ResultQuantity quantity) {
    return found(range, quantity).flatMap(Result::judgement).map(j -> j.limit());
  }

  private LoadCharts charts(LoadSweepStudy study) {
    LoadCharts.Found found =
        new LoadCharts.Found(
            upright(study, ResultQuantity.COMPLIANCE_VOLTAGE, "compliance "),
            upright(study, ResultQuantity.KNEE_VOLTAGE, "knee "),
            directions);
    return new LoadCharts(study, found, sheet.stamp());
  }

  private Optional<Mark.Upright> upright(
      LoadSweepStudy study, ResultQuantity quantity, String words) {
    double sign = study.curve().question().nominalA() < 0 ? -1 : 1;
    return assessment.results().stream()
        .filter(r -> r.quantity() == quantity && belongs(r, study))
        .flatMap(r -> upright(r, words, sign).stream())
        .findFirst();
  }

  private static Optional<Mark.Upright> upright(Result result, String words, double sign) {
    if (!(result.outcome() instanceof ComputationOutcome.Value v)) {
      return Optional.empty();
    }
    String label =
        words + PrintedUnitSymbols.of(ResultFigures.number(v.value(), result.quantity().unit()));
    double half = v.uncertainty().map(ComputationOutcome.Uncertainty::expanded).orElse(0.0);
    return Optional.of(new Mark.Upright(label, sign * Math.abs(v.value()), half));
  }

  private static boolean belongs(Result r, LoadSweepStudy study) {
    return r.range().equals(Optional.of(study.range()))
        && near(r.at().number(ResultConditionKey.TEMPERATURE_DEGC), study.temperatureDegC())
        && near(r.at().number(ResultConditionKey.SUPPLY_V), study.supplyV());
  }

  private static boolean near(OptionalDouble a, OptionalDouble b) {
    return a.isEmpty() || b.isEmpty() || Math.abs(a.getAsDouble() - b.getAsDouble()) < SAME_K;
  }

  private void temperature() {
    List<RangeTemperatureStudy> studies =
        ranges.stream()
            .flatMap(n -> assessment.temperatures().stream().filter(t -> t.range().equals(n)))
            .filter(t -> t.study().points().size() > 1)
            .toList();
    Map<String, Chart> left = TemperatureCharts.residuals(studies, sheet.stamp());
    List<SmallMultiples.Panel> slopes =
        studies.stream()
            .map(
                s ->
                    panel(
                        "temperature",
                        s.range(),
                        TemperatureCharts.of(
                            s, limit(s.range(), ResultQuantity.TEMPCO), sheet.stamp()),
                        tempco(s)))
            .toList();
    List<SmallMultiples.Panel> rest =
        studies.stream()
            .filter(s -> left.containsKey(s.range()))
            .map(
                s ->
                    panel(
                        "",
                        s.range(),
                        left.get(s.range()),
                        TemperatureCharts.spread(s).orElse("no temperature was visited twice")))
            .toList();
    section(
        "Against temperature",
        "temperature",
        List.of(
            new SmallMultiples(
                "Change of the current with the temperature of the unit",
                "In ppm of the current at the reference temperature; how far visits of one"
                    + " temperature lie apart stands beside each coefficient. A limit that is not"
                    + " drawn lies far out of the picture.",
                slopes),
            new SmallMultiples(
                "What the lines over temperature leave over",
                "On one scale for all ranges: a curve, a hysteresis or a wild visit would show.",
                rest)),
        List.of());
  }

  private String tempco(RangeTemperatureStudy study) {
    return said(
        Stream.of(
            "n = " + study.study().points().size() + " visits",
            found(study.range(), ResultQuantity.TEMPCO).map(RangeSections::stated).orElse(""),
            TemperatureCharts.spread(study).orElse("")));
  }

  /**
   * Writes the response of the ranges between the measured conditions, if more than one was
   * measured.
   */
  private void response() {
    List<SmallMultiples.Panel> temperatures = new ArrayList<>();
    List<SmallMultiples.Panel> voltages = new ArrayList<>();
    List<String> notes = new ArrayList<>();
    for (String range : ranges) {
      Optional<RangeResponse> own = assessment.response().range(range);
      Optional<PromisedConditionBox> box = predictions().box(range);
      if (own.isPresent() && box.isPresent() && own.get().temperatureKnown()) {
        ResponseCharts charts =
            new ResponseCharts(own.get(), box.get(), limitPpm(own.get()), sheet.stamp());
        String caption = error(own.get());
        temperatures.add(panel("response", range, charts.overTemperature(), caption));
        voltages.add(
            panel(
                "",
                range,
                charts.overVoltage(),
                "n = " + own.get().points().size() + " points, all conditions"));
        own.get().notes().forEach(n -> notes.add("Range " + range + ": " + n + "."));
      }
    }
    section(
        "At any condition",
        "response",
        List.of(
            new SmallMultiples(
                "Predicted error over temperature",
                "As predicted from all points of each range, at three terminal voltages, with what"
                    + " was measured there. The box is what the limit promises; where a line ends"
                    + " before it, nothing was measured.",
                temperatures),
            new SmallMultiples(
                "Predicted error over terminal voltage",
                "The same at three temperatures.",
                voltages)),
        notes);
  }

  private Predictions predictions() {
    return new Predictions(assessment, false);
  }

  private Optional<Limit> limitPpm(RangeResponse response) {
    return predictions().limit(response.range()).map(l -> l.limit(response.nominalA()));
  }

  private String error(RangeResponse response) {
    Optional<Result> error =
        found(response.range(), ResultQuantity.CURRENT_ERROR)
            .filter(r -> r.judgement().isPresent());
    String worst =
        error
            .map(r -> stated(r) + " at " + PrintedUnitSymbols.of(ResultConditionWords.of(r.at())))
            .map(w -> "worst " + w)
            .orElse("");
    String box =
        error
            .map(r -> BoxJudgementWords.box(r.judgement().orElseThrow().when()))
            .filter(w -> !w.isEmpty())
            .map(w -> "promised over " + PrintedUnitSymbols.of(w))
            .orElse("");
    return said(Stream.of("n = " + response.points().size() + " points", worst, box));
  }
}
