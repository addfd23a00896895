// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

import java.util.List;
import millrace.evidence.part.AskedPartValue;

/** Something that could still be measured of a unit, to tell causes apart (methods.md 9). */
public sealed interface FurtherMeasurement {
  /**
   * What to do.
   *
   * @return for example {@code measure the resistance of R2}
   */
  String words();

  /**
   * A current that the bench measures by itself.
   *
   * @param words what to do
   * @param range the range
   * @param terminalV voltage at the terminals, V, 0 or more
   * @param degC temperature of the unit, degC
   */
  record OfCurrent(String words, String range, double terminalV, double degC)
      implements FurtherMeasurement {}

  /**
   * A value that a person measures.
   *
   * @param words what to do
   * @param asked what of which part
   * @param degC temperatures of the unit at which it is measured, degC; one or two
   */
  record ByHand(String words, AskedPartValue asked, List<Double> degC)
      implements FurtherMeasurement {
    /** Copies the list. */
    public ByHand {
      degC = List.copyOf(degC);
    }
  }
}
