// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import millrace.analysis.load.LoadCurve;
import millrace.analysis.load.LoadPoint;
import millrace.analysis.load.LoadSweepRequest;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;

/**
 * A night on a bench whose errors are drawn: gain and offset of the meter, noise of each point, the
 * thermometer's calibration, what each visit does by itself, and a slow drift.
 *
 * @param temperaturesDegC visits in their order
 * @param noisePpm of a point
 * @param gainPpm of the meter
 * @param offsetPpm of the meter
 * @param visitPpm by how much visits scatter
 * @param driftPpmPerH of the unit
 */
record Night(
    double[] temperaturesDegC,
    double noisePpm,
    double gainPpm,
    double offsetPpm,
    double visitPpm,
    double driftPpmPerH) {
  private static final double THERMOMETER_K = 0.05;
  private static final double THERMOMETER_NOISE_K = 0.01;
  private static final double VISIT_S = 3600;

  /** The points of a range, its compliance voltages found from them. */
  RangeMeasurements of(String range, TrueCurve unit, SplittableRandom chance) {
    double nominal = unit.nominalA();
    double gain = gainPpm * 1e-6 * chance.nextGaussian();
    double offset = offsetPpm * 1e-6 * chance.nextGaussian();
    double thermometer = THERMOMETER_K * chance.nextGaussian();
    List<ResponsePoint> points = new ArrayList<>();
    Map<Integer, RangeMeasurements.Edge> edges = new HashMap<>();
    int loads = unit.loadsV().length;
    double middleS =
        ((temperaturesDegC.length - 1) * VISIT_S + (loads - 1) * VISIT_S / 2 / loads) / 2;
    for (int visit = 0; visit < temperaturesDegC.length; visit++) {
      double own = visitPpm * 1e-6 * chance.nextGaussian();
      List<LoadPoint> sweep = new ArrayList<>();
      for (int k = 0; k < loads; k++) {
        double timeS = visit * VISIT_S + k * VISIT_S / 2 / loads;
        double degC = temperaturesDegC[visit] + 0.1 * chance.nextGaussian();
        double v = unit.loadsV()[k];
        double drift = driftPpmPerH * 1e-6 * (timeS - middleS) / 3600;
        double truth = unit.y(v, degC) + own + drift;
        double shown =
            nominal * ((1 + truth) * (1 + gain) + offset + noisePpm * 1e-6 * chance.nextGaussian());
        String key = range + " " + visit + " " + k;
        Estimate current =
            Estimate.exact(shown)
                .with(normal("noise", ErrorSource.POINT, key, noisePpm * 1e-6 * nominal, "A"), 1)
                .with(normal("gain", ErrorSource.RUN, "meter", gainPpm * 1e-6, "1"), shown)
                .with(normal("offset", ErrorSource.RUN, range, offsetPpm * 1e-6 * nominal, "A"), 1);
        double readDegC = degC + thermometer + THERMOMETER_NOISE_K * chance.nextGaussian();
        Estimate temperature =
            Estimate.exact(readDegC)
                .with(normal("thermometer", ErrorSource.RUN, "unit", THERMOMETER_K, "K"), 1)
                .with(
                    normal("T noise", ErrorSource.POINT, key + " T", THERMOMETER_NOISE_K, "K"), 1);
        Estimate volts = Estimate.exact(v).with(normal("V", ErrorSource.POINT, key, 1e-4, "V"), 1);
        points.add(
            new ResponsePoint(
                key,
                visit,
                OptionalDouble.of(timeS),
                current,
                volts,
                temperature,
                OptionalDouble.empty()));
        sweep.add(new LoadPoint(key, volts, current, OptionalDouble.empty(), timeS, false, false));
      }
      edges.put(visit, edge(range, nominal, sweep));
    }
    return new RangeMeasurements(range, nominal, points, edges, true);
  }

  private static RangeMeasurements.Edge edge(String range, double nominal, List<LoadPoint> sweep) {
    LoadCurve curve =
        LoadCurve.of(sweep, LoadSweepRequest.of(range, nominal, 0.9545)).orElseThrow();
    return RangeMeasurements.Edge.of(curve, 0.9545);
  }

  private static ErrorSource normal(
      String what, String group, String instance, double u, String unit) {
    return ErrorSource.normal(what, group, instance, u, unit);
  }
}
