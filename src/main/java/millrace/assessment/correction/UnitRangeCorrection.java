// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.correction;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import millrace.analysis.uncertainty.Budget;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.ComputationOutcome;

/**
 * The correction of one range: I = I_N gain (1 + a (T - T_ref) + b (T - T_ref)^2) - G (V - V_ref),
 * with a in ppm/K, b in ppm/K2 (methods.md 3.1, 5.4). All constants are computed from the same
 * readings, so their errors are correlated; {@link #currentA} includes the correlation.
 *
 * @param range the range
 * @param nominalA I_N, A
 * @param gain I(T_ref, V_ref) over I_N, a ratio
 * @param linear a, ppm/K; empty if only one temperature was measured
 * @param quadratic b, ppm/K2; empty if too few temperatures were measured
 * @param conductance G, S; empty if no load was swept
 * @param box the conditions that the correction holds for
 * @param residual the residual error
 * @param notes notes for the user, sentences without full stop
 */
public record UnitRangeCorrection(
    String range,
    double nominalA,
    Estimate gain,
    Optional<Estimate> linear,
    Optional<Estimate> quadratic,
    Optional<Estimate> conductance,
    Box box,
    Residual residual,
    List<String> notes) {
  static final String ONE_TEMPERATURE = "one temperature was measured";
  static final String FEW = "too few temperatures were measured";
  static final String NO_SWEEP = "no load was swept";

  private static final double PPM = 1e6;
  private static final Estimate NONE = Estimate.exact(0);
  private static final Set<String> SHARED =
      Set.of(ErrorSource.RUN, ErrorSource.INSTRUMENT_AND_RANGE);

  /** Copies the list. */
  public UnitRangeCorrection {
    notes = List.copyOf(notes);
  }

  /**
   * The conditions that a correction holds for.
   *
   * @param referenceDegC T_ref, degC
   * @param lowestDegC the lowest temperature that was measured, degC
   * @param highestDegC the highest one, degC
   * @param referenceV V_ref, V
   * @param highestV the highest voltage on the plateau, V, 0 or more
   */
  public record Box(
      double referenceDegC,
      double lowestDegC,
      double highestDegC,
      double referenceV,
      double highestV) {
    /** Largest extrapolation in temperature of a correction, K. */
    private static final double SLACK_K = 1.5;

    private static final double SLACK_V = 0.05;

    /**
     * Tells whether a correction may be used.
     *
     * @param degC temperature of the unit, degC
     * @param volts terminal voltage, V
     * @return true inside the box
     */
    public boolean contains(double degC, double volts) {
      return degC >= lowestDegC - SLACK_K
          && degC <= highestDegC + SLACK_K
          && Math.abs(volts) <= highestV + SLACK_V;
    }
  }

  /**
   * The largest error that a corrected current is expected to have inside the box, at the coverage
   * of the datasheet: the misfit of the formula, and the uncertainty of the constants.
   *
   * @param misfitPpm largest distance of the measured lines from the formula, ppm of nominal
   * @param ppm against the true current, ppm of nominal: with the errors of the instruments
   * @param sameInstrumentsPpm against the same instruments with the same certificates, whose own
   *     errors drop out, ppm of nominal
   * @param beforePpm the largest error without correction, ppm of nominal
   */
  public record Residual(
      double misfitPpm, double ppm, double sameInstrumentsPpm, double beforePpm) {}

  /**
   * One number of the formula.
   *
   * @param name such as gain
   * @param unit its unit
   * @param outcome a value with its uncertainty, or the reason that there is none; it then counts
   *     as 0
   */
  public record Constant(String name, String unit, ComputationOutcome outcome) {}

  /**
   * The numbers of the formula, apart from the nominal current.
   *
   * @param coverage of their expanded uncertainties, above 0 and below 1
   * @return gain, temperature coefficients, output conductance
   */
  public List<Constant> constants(double coverage) {
    return List.of(
        new Constant("gain", "1", stated(gain, coverage)),
        new Constant("temperature_linear", "ppm/K", stated(linear, coverage, ONE_TEMPERATURE)),
        new Constant("temperature_quadratic", "ppm/K2", stated(quadratic, coverage, FEW)),
        new Constant("output_conductance", "S", stated(conductance, coverage, NO_SWEEP)));
  }

  private static ComputationOutcome stated(
      Optional<Estimate> estimate, double coverage, String whyNot) {
    return estimate
        .<ComputationOutcome>map(e -> stated(e, coverage))
        .orElseGet(() -> new ComputationOutcome.Missing(whyNot, 0));
  }

  private static ComputationOutcome.Value stated(Estimate estimate, double coverage) {
    return new ComputationOutcome.Value(
        estimate.value(),
        estimate.hasUncertainty()
            ? Optional.of(Budget.of(estimate).uncertainty(coverage))
            : Optional.empty(),
        0);
  }

  /**
   * The corrected current.
   *
   * @param degC temperature of the unit, degC
   * @param volts terminal voltage, V
   * @return the current, A, with the errors of the constants
   */
  public Estimate currentA(double degC, double volts) {
    return currentA(this, degC - box.referenceDegC(), volts - box.referenceV());
  }

  private static Estimate currentA(UnitRangeCorrection c, double aboveK, double aboveV) {
    Estimate relative =
        Estimate.combine(
            1,
            new double[] {aboveK / PPM, aboveK * aboveK / PPM},
            List.of(c.linear.orElse(NONE), c.quadratic.orElse(NONE)));
    return c.gain.times(relative).times(c.nominalA).minus(c.conductance.orElse(NONE).times(aboveV));
  }

  /**
   * Standard uncertainty of an estimate from errors common to all runs on the same instruments.
   *
   * @param estimate the estimate
   * @return in its unit
   */
  static double shared(Estimate estimate) {
    return estimate.standardUncertainty(s -> SHARED.contains(s.group()));
  }

  /**
   * Standard uncertainty of an estimate from all other errors.
   *
   * @param estimate the estimate
   * @return in its unit
   */
  static double own(Estimate estimate) {
    return estimate.standardUncertainty(s -> !SHARED.contains(s.group()));
  }

  UnitRangeCorrection with(Residual left) {
    return new UnitRangeCorrection(
        range, nominalA, gain, linear, quadratic, conductance, box, left, notes);
  }
}
