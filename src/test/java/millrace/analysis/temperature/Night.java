// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.time.Seeds;

/** A night at several temperatures with known truth; one stay an hour unless told otherwise. */
final class Night {
  static final double NOMINAL_A = 1e-3;

  private final List<TemperaturePoint> points = new ArrayList<>();
  private final SplittableRandom random;
  private final double noisePpm;
  private double slopePpmPerK = 2;
  private double curvePpmPerK2;
  private double driftPpmPerH;
  private double hours;

  Night(long seed, double noisePpm) {
    this.random = new Seeds(seed).stream("night");
    this.noisePpm = noisePpm;
  }

  Night slope(double ppmPerK) {
    slopePpmPerK = ppmPerK;
    return this;
  }

  Night curve(double ppmPerK2) {
    curvePpmPerK2 = ppmPerK2;
    return this;
  }

  Night drift(double ppmPerH) {
    driftPpmPerH = ppmPerH;
    return this;
  }

  Night stay(double temperatureDegC) {
    return stay(temperatureDegC, 0, 1);
  }

  /** A stay that lies off the law by some ppm, and how long it lasts. */
  Night stay(double temperatureDegC, double offPpm, double lastsH) {
    double above = temperatureDegC - 23;
    double ppm =
        slopePpmPerK * above
            + curvePpmPerK2 * above * above
            + driftPpmPerH * hours
            + offPpm
            + noisePpm * gaussian();
    Estimate current = Estimate.exact(NOMINAL_A * (1 + ppm * 1e-6));
    String key = "stay " + points.size();
    current = current.with(noise(key), NOMINAL_A * 1e-6).with(gain(), current.value() * 1e-6);
    points.add(
        new TemperaturePoint(
            points.size(),
            temperatureDegC,
            Estimate.exact(temperatureDegC),
            current,
            3600 * hours));
    hours += lastsH;
    return this;
  }

  private ErrorSource noise(String key) {
    return ErrorSource.normal("noise", ErrorSource.POINT, key, noisePpm, "ppm");
  }

  /** A meter's gain that all stays share: 50 ppm, ten times what is looked for. */
  private static ErrorSource gain() {
    return ErrorSource.normal("meter gain", ErrorSource.INSTRUMENT_AND_RANGE, "1mA", 50, "ppm");
  }

  private double gaussian() {
    double sum = 0;
    for (int i = 0; i < 12; i++) {
      sum += random.nextDouble();
    }
    return sum - 6;
  }

  List<TemperaturePoint> points() {
    return points;
  }

  TemperatureStudy study() {
    return TemperatureStudy.of(points, 23);
  }
}
