// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.tally;

import java.util.OptionalDouble;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.quantity.NumberText;

/** What the meters said at a point of how they were set. Stateless. */
public final class PointMeterSettings {
  private PointMeterSettings() {}

  /** The range that the meter of a signal said it was in; empty text if it said nothing. */
  public static String range(Point point, MeasuredSignal signal) {
    return of(point, signal.forward(), "range");
  }

  /** The step of its last digit, in its unit; 0 where it was not asked. */
  public static double resolution(Point point, MeasuredSignal signal) {
    OptionalDouble step = NumberText.parse(of(point, signal.forward(), "resolution"));
    return step.isPresent() && step.getAsDouble() > 0 ? step.getAsDouble() : 0;
  }

  /** What a meter said of one of its settings at a point; empty text where it was not asked. */
  public static String of(Point point, MeasuredSignal signal, String name) {
    String meter = signal == MeasuredSignal.CURRENT ? "current meter " : "voltmeter ";
    boolean metered = signal == MeasuredSignal.CURRENT || signal == MeasuredSignal.VOLTAGE;
    return metered ? point.settings().getOrDefault(meter + name, "") : "";
  }
}
