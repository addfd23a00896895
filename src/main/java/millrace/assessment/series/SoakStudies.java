// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.series;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import millrace.analysis.settling.SoakJudge;
import millrace.analysis.settling.SoakJudge.Finding;
import millrace.analysis.settling.SoakJudge.Left;
import millrace.analysis.settling.SoakJudge.Sample;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.assessment.basis.JudgementBasis;
import millrace.assessment.reduction.ReducedPoint;
import millrace.assessment.tally.RunReadingTallies;
import millrace.assessment.tally.TemperatureStayNumbers;
import millrace.assessment.tally.TimeSeriesColumns;
import millrace.datasheet.Datasheet;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.logbook.RunReader;
import millrace.quantity.TimeSpanSeconds;

/**
 * The residual error of each soak, computed from the readings taken during it. A change that
 * follows the unit's temperature adds no error, since that temperature is read with every point and
 * every result is stated at it. The part that the temperature does not explain is a component of
 * all results of the stay (methods.md 6.1).
 */
public final class SoakStudies {
  private static final double USUAL_TAU_S = 600;
  private static final double BAND_K = 1;

  private final double tauS;
  private final Map<Integer, Map<String, SoakFinding>> stays = new TreeMap<>();

  /** The soak of one range at one stay. */
  private record SoakFinding(SoakStudy study, Finding finding) {
    double leftRatio() {
      return study.leftRatio().orElse(Double.MAX_VALUE);
    }
  }

  /** One check of one range, at a time from the start of the run. */
  private record Look(
      String range, double timeS, double degC, OptionalDouble airDegC, OptionalDouble relative) {
    /** A sample of a range; it has a current only if that range was checked. */
    Sample of(String wanted, double beganS) {
      OptionalDouble own = range.equals(wanted) ? relative : OptionalDouble.empty();
      return new Sample(timeS - beganS, degC, airDegC, own);
    }
  }

  /**
   * Studies the soaks of one run.
   *
   * @param reader the run
   * @param tallies its readings
   * @param basis the basis of its judgement
   */
  public SoakStudies(RunReader reader, RunReadingTallies tallies, JudgementBasis basis) {
    tauS =
        basis
            .datasheet()
            .flatMap(Datasheet::thermalTimeConstant)
            .map(TimeSpanSeconds::seconds)
            .orElse(USUAL_TAU_S);
    TemperatureStayNumbers numbers = new TemperatureStayNumbers(tallies.points());
    List<Incident> incidents =
        reader.incidents().stream().filter(i -> i.kind() == IncidentKind.SOAK).toList();
    for (List<TimeSeriesColumns> together : soaks(tallies)) {
      int stay = numbers.of(together.get(0).point());
      List<Look> looks = new ArrayList<>();
      together.forEach(series -> looks.addAll(looks(series)));
      looks.sort(Comparator.comparingDouble(Look::timeS));
      for (TimeSeriesColumns series : together) {
        SoakFinding finding = finding(stay, series.point(), looks, incidents);
        stays
            .computeIfAbsent(stay, s -> new LinkedHashMap<>())
            .put(finding.study().range(), finding);
      }
    }
  }

  /** The ranges that were measured in turn during one soak. */
  private static Iterable<List<TimeSeriesColumns>> soaks(RunReadingTallies tallies) {
    Map<Duration, List<TimeSeriesColumns>> soaks = new TreeMap<>();
    tallies
        .series(PointKind.SOAK)
        .forEach(s -> soaks.computeIfAbsent(s.point().started(), t -> new ArrayList<>()).add(s));
    return soaks.values();
  }

  private SoakFinding finding(int stay, Point point, List<Look> looks, List<Incident> incidents) {
    double began = TimeSpanSeconds.seconds(point.started());
    String range = rangeOf(point);
    List<Sample> samples = looks.stream().map(l -> l.of(range, began)).toList();
    double setpoint = point.conditions().temperatureDegC().orElse(0);
    Finding finding =
        SoakJudge.look(
            samples, new SoakJudge.Question(1, Double.POSITIVE_INFINITY, tauS, setpoint, BAND_K));
    SoakStudy study =
        new SoakStudy(
            stay, setpoint, range, samples, finding.leftRatio(), decision(incidents, point));
    return new SoakFinding(study, finding);
  }

  private static String rangeOf(Point point) {
    return point.conditions().range().orElse("");
  }

  private static String decision(List<Incident> incidents, Point point) {
    return incidents.stream()
        .filter(i -> i.elapsed().compareTo(point.ended()) >= 0)
        .findFirst()
        .map(Incident::text)
        .orElse("the soak was interrupted");
  }

  /**
   * A check ends with a reading of the temperature; without a thermometer each reading is a check.
   */
  private static List<Look> looks(TimeSeriesColumns series) {
    PointConditions c = series.point().conditions();
    double nominal = c.nominalA().orElse(1);
    boolean own = series.has(MeasuredSignal.UNIT_TEMPERATURE);
    MeasuredSignal thermometer =
        own ? MeasuredSignal.UNIT_TEMPERATURE : MeasuredSignal.CHAMBER_TEMPERATURE;
    double[] t = series.timeS(MeasuredSignal.CURRENT);
    double[] current = series.values(MeasuredSignal.CURRENT);
    double[] ends = series.has(thermometer) ? series.timeS(thermometer) : t;
    double[] degC = series.values(thermometer);
    double[] air = own ? series.values(MeasuredSignal.CHAMBER_TEMPERATURE) : new double[0];
    List<Look> looks = new ArrayList<>();
    int from = 0;
    for (int k = 0; k < ends.length; k++) {
      double sum = 0;
      int n = 0;
      for (; from < t.length && t[from] <= ends[k]; from++) {
        sum += current[from];
        n++;
      }
      looks.add(
          new Look(
              rangeOf(series.point()),
              ends[k],
              k < degC.length ? degC[k] : c.temperatureDegC().orElse(0),
              k < air.length ? OptionalDouble.of(air[k]) : OptionalDouble.empty(),
              n > 0 ? OptionalDouble.of(sum / n / nominal) : OptionalDouble.empty()));
    }
    return looks;
  }

  /** The range with the largest possible residual, for each stay. */
  public List<SoakStudy> studies() {
    return stays.values().stream()
        .map(
            ranges ->
                ranges.values().stream()
                    .max(Comparator.comparingDouble(SoakFinding::leftRatio))
                    .orElseThrow()
                    .study())
        .toList();
  }

  /**
   * The points of one range with the residual error of their soaks: it is common to the points of a
   * stay, so it cancels in slopes over the load.
   */
  public List<ReducedPoint> carried(String range, List<ReducedPoint> points) {
    double slope = relativePerK(points);
    Map<Integer, ErrorSource> sources = new HashMap<>();
    List<ReducedPoint> carried = new ArrayList<>();
    for (ReducedPoint p : points) {
      Optional<ErrorSource> source = Optional.ofNullable(sources.get(p.stay()));
      if (source.isEmpty()) {
        source = unexplained(range, p, slope);
        source.ifPresent(s -> sources.put(p.stay(), s));
      }
      carried.add(source.map(s -> p.withCurrent(p.currentA().with(s, 1))).orElse(p));
    }
    return carried;
  }

  /**
   * Half-width of the part that the unit's temperature does not explain, as an error of the
   * current.
   */
  private Optional<ErrorSource> unexplained(String range, ReducedPoint p, double slopePerK) {
    return Optional.ofNullable(stays.getOrDefault(p.stay(), Map.of()).get(range))
        .flatMap(t -> t.finding().left())
        .map(
            left ->
                ErrorSource.within(
                    "what the soak left",
                    ErrorSource.TEMPERATURE_STEP,
                    range + " stay " + p.stay(),
                    half(left, slopePerK) * Math.abs(p.nominalA()),
                    "A"));
  }

  private static double half(Left left, double slopePerK) {
    double value = Math.abs(left.ratio() - slopePerK * left.temperatureK());
    return value + 2 * Math.max(left.u(), Math.abs(slopePerK) * left.uTemperatureK());
  }

  /** Slope of the current over the temperature of the unit, relative, by plain least squares. */
  private static double relativePerK(List<ReducedPoint> points) {
    double n = 0;
    double sumT = 0;
    double sumI = 0;
    double sumTt = 0;
    double sumTi = 0;
    for (ReducedPoint p : points) {
      boolean low = p.nominalA() != 0 && p.point().kind() == PointKind.MEASURE;
      if (low
          && p.temperatureDegC().isPresent()
          && p.point().conditions().loadOhm().orElse(0) == 0) {
        double degC = p.temperatureDegC().get().value();
        double relative = p.currentA().value() / p.nominalA() - 1;
        n++;
        sumT += degC;
        sumI += relative;
        sumTt += degC * degC;
        sumTi += degC * relative;
      }
    }
    double spread = n * sumTt - sumT * sumT;
    return n < 2 || spread < n * n ? 0 : (n * sumTi - sumT * sumI) / spread;
  }
}
