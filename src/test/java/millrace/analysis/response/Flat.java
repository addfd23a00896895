// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;

/** Points of an invented range of 1 mA whose truth is a plane or a parabola. */
final class Flat {
  static final double NOMINAL_A = 1e-3;
  private static final double NOISE_A = 5e-11;

  private Flat() {}

  /** 100 ppm, 2 ppm/K, -0.5 ppm/V, and a bow over temperature. */
  static double ppm(double degC, double volts, double bow) {
    return 100 + 2 * (degC - 23) + bow * (degC - 23) * (degC - 23) - 0.5 * volts;
  }

  /** A visit per temperature, each with the same voltages; the gain of the meter is shared. */
  static RangeMeasurements range(
      String name, double bow, double[] temperaturesDegC, double... volts) {
    List<ResponsePoint> points = new ArrayList<>();
    for (int visit = 0; visit < temperaturesDegC.length; visit++) {
      for (double v : volts) {
        String key = name + " " + visit + " " + v;
        double amperes = NOMINAL_A * (1 + ppm(temperaturesDegC[visit], v, bow) * 1e-6);
        Estimate current =
            Estimate.exact(amperes)
                .with(ErrorSource.normal("noise", ErrorSource.POINT, key, NOISE_A, "A"), 1)
                .with(ErrorSource.normal("gain", ErrorSource.RUN, "meter", 10e-6, "1"), amperes);
        points.add(
            new ResponsePoint(
                key,
                visit,
                OptionalDouble.of(visit * 3600.0),
                current,
                Estimate.exact(v),
                Estimate.exact(temperaturesDegC[visit]),
                OptionalDouble.empty()));
      }
    }
    return new RangeMeasurements(name, NOMINAL_A, points, Map.of(), true);
  }

  static RangeResponse response(RangeMeasurements data, ResponseSettings settings) {
    return UnitResponse.of(List.of(data), settings).range(data.range()).orElseThrow();
  }

  static RangeResponse response(RangeMeasurements data) {
    return response(data, new ResponseSettings(23, Map.of(), Map.of()));
  }
}
