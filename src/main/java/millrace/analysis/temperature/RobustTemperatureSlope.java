// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.temperature;

import java.util.List;
import java.util.Optional;
import millrace.analysis.regression.TheilSen;

/**
 * A slope robust against an outlying stay, shown beside the ordinary one (methods.md 5.9): the
 * median of pair slopes of I/I_ref - 1, less the fitted drift if there is one.
 *
 * @param ppmPerK the median slope, ppm/K
 * @param lowPpmPerK lower end of its interval
 * @param highPpmPerK upper end of its interval
 * @param wildest the stay farthest from the robust line
 * @param wildestPpm how far it lies from it, ppm
 */
public record RobustTemperatureSlope(
    double ppmPerK,
    double lowPpmPerK,
    double highPpmPerK,
    TemperaturePoint wildest,
    double wildestPpm) {

  private static final int LEAST_STAYS = 4;

  /**
   * The robust slope of a study.
   *
   * @param study the study
   * @param coverage probability of the interval
   * @return empty below four stays or where no slope is fitted
   */
  public static Optional<RobustTemperatureSlope> of(TemperatureStudy study, double coverage) {
    return study.points().size() < LEAST_STAYS
        ? Optional.empty()
        : study.slope().map(line -> beside(study, line, coverage));
  }

  private static RobustTemperatureSlope beside(
      TemperatureStudy study, TemperatureLine line, double coverage) {
    List<TemperaturePoint> points = study.points();
    double[] x = points.stream().mapToDouble(p -> p.temperatureDegC().value()).toArray();
    double[] y = points.stream().mapToDouble(p -> study.ppm(p).value()).toArray();
    double drift = line.driftPpmPerS().map(d -> d.value()).orElse(0.0);
    for (int i = 0; i < y.length; i++) {
      y[i] -= drift * (points.get(i).timeS() - points.get(0).timeS());
    }
    TheilSen fit = TheilSen.of(x, y, coverage);
    int wildest = 0;
    double most = 0;
    for (int i = 0; i < y.length; i++) {
      double off = y[i] - fit.intercept() - fit.slope() * x[i];
      if (Math.abs(off) > Math.abs(most)) {
        wildest = i;
        most = off;
      }
    }
    return new RobustTemperatureSlope(
        fit.slope(), fit.low(), fit.high(), points.get(wildest), most);
  }
}
