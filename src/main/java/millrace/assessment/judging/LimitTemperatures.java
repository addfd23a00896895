// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.judging;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import millrace.quantity.ClosedInterval;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/** The temperatures that a limit covers, and those that are missing. */
final class LimitTemperatures {
  static final String UNKNOWN =
      "the temperature of the unit was neither measured nor stated: measure it, or state it with"
          + " the readings";

  private LimitTemperatures() {}

  /** The further measurements that a span needs. */
  static List<String> wanting(ClosedInterval asked, MeasuredConditions known) {
    if (known.temperatureDegC().isEmpty()) {
      return List.of(UNKNOWN);
    }
    ClosedInterval there = known.temperatureDegC().get();
    List<Double> missing = new ArrayList<>();
    if (asked.lower() < there.lower() - MeasuredConditions.SLACK_K
        || asked.lower() > there.upper() + MeasuredConditions.SLACK_K) {
      missing.add(asked.lower());
    }
    if (asked.upper() > there.upper() + MeasuredConditions.SLACK_K
        || asked.upper() < there.lower() - MeasuredConditions.SLACK_K) {
      missing.add(asked.upper());
    }
    return measureAt(missing);
  }

  /** The instruction to measure at some temperatures; none if there are none. */
  static List<String> measureAt(List<Double> degC) {
    return degC.isEmpty()
        ? List.of()
        : List.of(
            "measure at "
                + degC.stream()
                    .distinct()
                    .map(t -> QuantityText.print(t, Dimension.TEMPERATURE))
                    .collect(Collectors.joining(" and ")));
  }
}
