// SPDX-License-Identifier: Apache-2.0
package millrace.run.reading;

import java.util.OptionalDouble;

/**
 * Detects when successive readings no longer move in one direction: a settling value approaches
 * from one side until its steps are smaller than the noise, and then turns round. Single-threaded.
 */
public final class StandstillDetector {
  private final double none;
  private OptionalDouble before = OptionalDouble.empty();
  private double step;

  /**
   * Begins without a reading.
   *
   * @param none a step that counts as none, in the unit of the readings, 0 or more
   */
  public StandstillDetector(double none) {
    this.none = none;
  }

  /** Takes one more reading; true if it turned round or moved by next to nothing. */
  public boolean after(double reading) {
    double last = step;
    boolean first = before.isEmpty();
    step = first ? 0 : reading - before.getAsDouble();
    before = OptionalDouble.of(reading);
    return !first && (Math.abs(step) <= none || step * last < 0);
  }
}
