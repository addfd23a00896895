// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.correction;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.CoverageFactors;
import millrace.analysis.uncertainty.Estimate;
import millrace.assessment.MeasuredPoint;

/**
 * Checks the points of a later run against the correction constants of an earlier one. The residual
 * is expected within the misfit of the formula and k sqrt(u_1^2 + u_2^2), u_1 of the corrected
 * current and u_2 of the point (methods.md 2.3, 8). Errors common to both runs drop out of each u
 * if the instruments and their certificates are the same.
 *
 * @param ranges the check of each range
 * @param sameInstruments true if both runs used the same ones
 * @param outside number of points outside the boxes of the constants, or in a range without
 *     constants
 */
public record CorrectionResidualCheck(List<Checked> ranges, boolean sameInstruments, int outside) {
  private static final double PPM = 1e6;

  /** Copies the list. */
  public CorrectionResidualCheck {
    ranges = List.copyOf(ranges);
  }

  /**
   * One range.
   *
   * @param range the range
   * @param points number of points checked, 1 or more
   * @param before the point with the largest error before correction
   * @param after the point with the largest residual relative to its expected limit after
   *     correction
   */
  public record Checked(String range, int points, Held before, Held after) {
    /**
     * Tells whether the constants hold.
     *
     * @return true if no residual exceeds its expected limit
     */
    public boolean holds() {
      return Math.abs(after.afterPpm()) <= after.expectedPpm();
    }
  }

  /**
   * One point.
   *
   * @param degC temperature of the unit, degC
   * @param volts terminal voltage, V
   * @param beforePpm measured less nominal, ppm of nominal
   * @param afterPpm measured less corrected, ppm of nominal
   * @param expectedPpm largest expected magnitude of afterPpm, ppm of nominal
   */
  public record Held(
      double degC, double volts, double beforePpm, double afterPpm, double expectedPpm) {
    private double share() {
      return Math.abs(afterPpm) / expectedPpm;
    }
  }

  /**
   * Checks points against constants.
   *
   * @param corrections the constants of the same unit
   * @param points of the later run
   * @param sameInstruments true if both runs used the same ones
   * @param coverage probability, above 0 and below 1
   * @return the check
   */
  public static CorrectionResidualCheck of(
      UnitCorrectionConstants corrections,
      List<MeasuredPoint> points,
      boolean sameInstruments,
      double coverage) {
    List<Checked> ranges = new ArrayList<>();
    int held = 0;
    for (UnitRangeCorrection c : corrections.ranges()) {
      List<MeasuredPoint> inside =
          points.stream()
              .filter(p -> p.point().conditions().range().equals(Optional.of(c.range())))
              .filter(p -> c.box().contains(degC(p, c), p.voltageV()))
              .toList();
      double k = factor(coverage, inside.size());
      List<Held> there = inside.stream().map(p -> held(c, p, sameInstruments, k)).toList();
      held += there.size();
      checked(c.range(), there).ifPresent(ranges::add);
    }
    return new CorrectionResidualCheck(ranges, sameInstruments, points.size() - held);
  }

  /** Coverage factor for all points together at the coverage of a single one (Bonferroni). */
  private static double factor(double coverage, int points) {
    return CoverageFactors.factor(1 - (1 - coverage) / Math.max(1, points), OptionalDouble.empty());
  }

  private static double degC(MeasuredPoint p, UnitRangeCorrection c) {
    return p.temperatureDegC().orElse(c.box().referenceDegC());
  }

  private static Held held(UnitRangeCorrection c, MeasuredPoint p, boolean same, double k) {
    double degC = degC(p, c);
    Estimate corrected = c.currentA(degC, p.voltageV());
    double slopeAPerK = Math.abs(c.linear().map(Estimate::value).orElse(0.0) / PPM * c.nominalA());
    double u =
        Math.sqrt(
            square(UnitRangeCorrection.own(corrected))
                + square(p.uPointA())
                + square(slopeAPerK * p.uTemperatureK())
                + (same
                    ? 0
                    : square(UnitRangeCorrection.shared(corrected)) + square(p.uCommonA())));
    double ppm = PPM / Math.abs(c.nominalA());
    return new Held(
        degC,
        p.voltageV(),
        (p.currentA() - c.nominalA()) * ppm,
        (p.currentA() - corrected.value()) * ppm,
        c.residual().misfitPpm() + k * u * ppm);
  }

  private static double square(double x) {
    return x * x;
  }

  private static Optional<Checked> checked(String range, List<Held> there) {
    if (there.isEmpty()) {
      return Optional.empty();
    }
    Held before = there.get(0);
    Held after = there.get(0);
    for (Held h : there) {
      before = Math.abs(h.beforePpm()) > Math.abs(before.beforePpm()) ? h : before;
      after = h.share() > after.share() ? h : after;
    }
    return Optional.of(new Checked(range, there.size(), before, after));
  }

  /**
   * Tells whether all ranges hold.
   *
   * @return true if there are any and each holds
   */
  public boolean holds() {
    return !ranges.isEmpty() && ranges.stream().allMatch(Checked::holds);
  }
}
