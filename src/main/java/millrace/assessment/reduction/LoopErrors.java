// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.reduction;

import java.util.Collections;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.analysis.uncertainty.ErrorSource;
import millrace.analysis.uncertainty.Estimate;
import millrace.bench.BenchFile.Reproducibility;
import millrace.bench.BenchFile.Wiring;
import millrace.evidence.ErrorDistribution;
import millrace.evidence.Point;

/**
 * Errors of a current from the loop between unit and meter: leakage through the insulation of leads
 * and fixture (methods.md 1.6, 5.8), and the scatter of the run's connection (methods.md 2.6).
 */
final class LoopErrors {
  /** At and below this current the bench file should state its insulation, A. */
  private static final double SMALL_A = 1.001e-6;

  private final Wiring wiring;
  private final Set<String> notes = new LinkedHashSet<>();

  LoopErrors(Wiring wiring) {
    this.wiring = wiring;
  }

  /**
   * Adds both errors to a current.
   *
   * @param amperes out of the unit, A
   * @param volts at its terminals, V
   * @param stay which stay at a temperature the point belongs to
   * @param point the point
   * @return A
   */
  Estimate added(Estimate amperes, double volts, int stay, Point point) {
    return connected(leaking(amperes, volts, stay, point), point);
  }

  /**
   * A leakage between 0 and V/R bypasses the meter, in either direction with a guard: within
   * +/-V/R. The insulation changes by orders of magnitude with temperature and humidity, so the
   * leakages of two stays are independent; within a stay the leakage is proportional to the
   * voltage.
   */
  private Estimate leaking(Estimate amperes, double volts, int stay, Point point) {
    String range = point.conditions().range().orElse("");
    boolean small = Math.abs(point.conditions().nominalA().orElse(1)) <= SMALL_A;
    if (small && !wiring.guarded()) {
      notes.add(
          "range %s: the bench file says of no guard ('wiring: {guarded: yes}'), and at so small a current what leaks along an open lead counts"
              .formatted(range));
    }
    if (wiring.insulationOhm().isEmpty()) {
      if (small) {
        notes.add(
            "range %s: the bench file states no insulation resistance, so what leaks past the meter is no part of the budget"
                .formatted(range));
      }
      return amperes;
    }
    double siemens = 1 / wiring.insulationOhm().get();
    if (Math.abs(volts) * siemens > amperes.standardUncertainty() / 3 && volts != 0) {
      notes.add(
          "range %s: the voltage over the insulation resistance comes to more than a third of the uncertainty; %s"
              .formatted(
                  range,
                  wiring.guarded()
                      ? "the lead is guarded already, so measure the leakage"
                      : "guard the lead, or measure the leakage"));
    }
    ErrorSource leakage =
        ErrorSource.within(
            "insulation leakage", ErrorSource.TEMPERATURE_STEP, "stay " + stay, siemens, "S");
    return amperes.with(leakage, volts);
  }

  /**
   * A zero taken with the source off but connected includes its residual current (methods.md 1.4),
   * which lies within the statement of the bench file and is the same within a stay.
   */
  Estimate zeroed(Estimate amperes, int stay, Point point) {
    if (wiring.offLeakageA().isEmpty()) {
      notes.add(
          "zeros were taken with the source off and still connected, and the bench file does not"
              + " state what flows then ('wiring: {off leakage: ...}'): it is no part of the"
              + " budget");
      return amperes;
    }
    double most = wiring.offLeakageA().get();
    if (most > amperes.standardUncertainty() / 10) {
      notes.add(
          "range %s: what flows with the source off is more than a tenth of the uncertainty; take zeros through a switch that opens both leads"
              .formatted(point.conditions().range().orElse("")));
    }
    String instance = "source off, stay " + stay;
    return amperes.with(
        ErrorSource.within("off leakage", ErrorSource.TEMPERATURE_STEP, instance, most, "A"), 1);
  }

  /**
   * Scatter between connections: one error of the run, of the largest stated size (methods.md 2.3).
   * Relative results do not include it.
   */
  private Estimate connected(Estimate amperes, Point point) {
    List<Reproducibility> stated = wiring.reproducibility();
    Optional<Reproducibility> own =
        Reproducibility.of(stated, point.conditions().nominalA().orElse(0));
    if (own.isEmpty()) {
      return amperes;
    }
    double largest = stated.stream().mapToDouble(Reproducibility::ratio).max().orElse(0);
    int connections = Collections.min(stated.stream().map(Reproducibility::connections).toList());
    ErrorSource source =
        new ErrorSource(
            "set-up reproducibility",
            ErrorSource.RUN,
            "this connection",
            ErrorDistribution.NORMAL,
            OptionalDouble.of(connections - 1.0),
            largest,
            "1");
    double share = largest > 0 ? own.get().ratio() / largest : 0;
    return amperes.with(source, share * amperes.value());
  }

  Set<String> notes() {
    return notes;
  }
}
