package millrace.assessment;

import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import millrace.analysis.settling.SoakJudge;
import millrace.analysis.settling.SoakJudge.Sample;
import millrace.assessment.Assessment.SoakStudy;
import millrace.datasheet.Datasheet;
import millrace.evidence.Conditions;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.Signal;
import millrace.logbook.RunReader;

/** What each soak left, told again from the readings that were taken during it. */
final class SoakStudies {
  private static final double USUAL_TAU_S = 600;
  private static final double BAND_K = 0.3;

  private final List<SoakStudy> studies = new ArrayList<>();
  private final Map<Integer, Double> left = new HashMap<>();

  SoakStudies(RunReader reader, Tallies tallies, Basis basis) {
    double tauS =
        basis
            .datasheet()
            .flatMap(Datasheet::thermalTimeConstant)
            .map(d -> d.toMillis() / 1e3)
            .orElse(USUAL_TAU_S);
    StayNumbers stays = new StayNumbers(tallies.points());
    Map<Integer, Duration> ends = new HashMap<>();
    for (PointTally t : tallies.points(PointKind.MEASURE)) {
      ends.merge(stays.of(t.point()), t.point().ended(), (a, b) -> a.compareTo(b) > 0 ? a : b);
    }
    List<Incident> incidents =
        reader.incidents().stream().filter(i -> i.kind() == IncidentKind.SOAK).toList();
    for (SeriesColumns series : tallies.series(PointKind.SOAK)) {
      Point point = series.point();
      int stay = stays.of(point);
      Duration end = ends.getOrDefault(stay, point.ended());
      double measuringS = Math.max(60, seconds(end.minus(point.ended())));
      add(stay, series, look(tauS, measuringS, point), decision(incidents, point));
    }
  }

  private static double seconds(Duration span) {
    return span.toNanos() / 1e9;
  }

  private static String decision(List<Incident> incidents, Point point) {
    return incidents.stream()
        .filter(i -> i.elapsed().compareTo(point.ended()) >= 0)
        .findFirst()
        .map(Incident::text)
        .orElse("the soak was interrupted");
  }

  private static SoakJudge.Question look(double tauS, double measuringS, Point point) {
    double setpoint = point.conditions().temperatureDegC().orElse(0);
    return new SoakJudge.Question(1, measuringS, tauS, setpoint, BAND_K);
  }

  private void add(int stay, SeriesColumns series, SoakJudge.Question question, String decision) {
    List<Sample> samples = samples(series);
    OptionalDouble ratio = SoakJudge.look(samples, question).leftRatio();
    ratio.ifPresent(r -> left.put(stay, r));
    String range = series.point().conditions().range().orElse("");
    studies.add(new SoakStudy(stay, question.setpointDegC(), range, samples, ratio, decision));
  }

  private static List<Sample> samples(SeriesColumns series) {
    Conditions c = series.point().conditions();
    double began = seconds(series.point().started());
    double[] t = series.timeS(Signal.CURRENT);
    double[] i = series.values(Signal.CURRENT);
    Signal thermometer =
        series.has(Signal.UNIT_TEMPERATURE) ? Signal.UNIT_TEMPERATURE : Signal.CHAMBER_TEMPERATURE;
    List<Sample> samples = new ArrayList<>();
    for (int k = 0; k < t.length; k++) {
      double degC =
          series.has(thermometer)
              ? series.at(thermometer, t[k] + 1)
              : c.temperatureDegC().orElse(0);
      samples.add(new Sample(t[k] - began, degC, OptionalDouble.of(i[k] / c.nominalA().orElse(1))));
    }
    return samples;
  }

  List<SoakStudy> studies() {
    return studies;
  }

  /** What the soak of a stay left, a ratio; 0 where there was no soak or it cannot be told. */
  double leftRatio(int stay) {
    return left.getOrDefault(stay, 0.0);
  }
}
