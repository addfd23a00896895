// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.Optional;
import millrace.analysis.uncertainty.Estimate;
import millrace.evidence.part.PartValue;

/** A measurement of a unit that is evidence for or against a cause (methods.md 9). */
public sealed interface CauseObservation {

  /**
   * A current on the plateau.
   *
   * @param range the range
   * @param terminalV voltage at the terminals, V
   * @param degC temperature of the unit, degC
   * @param current A, with the sign of the nominal current; its sources say what it shares with
   *     other currents
   * @param meter which meter took it
   * @param at when it was taken; empty if not known: it then takes no part in finding a change
   */
  record OfCurrent(
      String range,
      double terminalV,
      double degC,
      Estimate current,
      String meter,
      Optional<Moment> at)
      implements CauseObservation {

    /** From the start, s; not a number if not known. */
    double timeS() {
      return at.map(Moment::timeS).orElse(Double.NaN);
    }
  }

  /**
   * A time of a run.
   *
   * @param timeS from the start, s
   * @param inWords as written for a reader, for example {@code 02:40}
   */
  record Moment(double timeS, String inWords) {}

  /**
   * A compliance voltage that was reached (a bound is no observation).
   *
   * @param range the range
   * @param compliance V, with its uncertainty
   */
  record OfCompliance(String range, Estimate compliance) implements CauseObservation {}

  /**
   * A value that a person measured of a part.
   *
   * @param value what was found; of what the circuit states in other digits, in those
   * @param timeS when, s from the start of the first run
   */
  record OfPart(PartValue value, double timeS) implements CauseObservation {}
}
