// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.judging;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.ConditionBox;
import millrace.quantity.ClosedInterval;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/**
 * The conditions that a range was measured under, as far as they were measured or stated.
 *
 * @param temperatureDegC from the coldest to the warmest visit, degC; empty if no temperature is
 *     known
 * @param highestVoltageV the largest terminal voltage at which the current still held, V, 0 or
 *     more; empty if none is known
 * @param supplyV from the lowest to the highest supply voltage, V; empty if none is known
 * @param timeOnS since power-on, from the first to the last point, s; empty if the time of power-on
 *     was not stated
 */
public record MeasuredConditions(
    Optional<ClosedInterval> temperatureDegC,
    OptionalDouble highestVoltageV,
    Optional<ClosedInterval> supplyV,
    Optional<ClosedInterval> timeOnS) {

  /** Nothing is known. */
  public static final MeasuredConditions NONE =
      new MeasuredConditions(
          Optional.empty(), OptionalDouble.empty(), Optional.empty(), Optional.empty());

  /** Distance from the measured temperatures that still counts as measured, K (methods.md 11.4). */
  static final double SLACK_K = 1;

  /** The same for every other condition, as a ratio (methods.md 11.4). */
  static final double SLACK_RATIO = 0.02;

  /**
   * The supply voltages and times since power-on that have to be measured or stated before a limit
   * can be judged.
   *
   * @param box the conditions of the limit
   * @return instructions in words; empty if all is known
   */
  List<String> wanting(ConditionBox box) {
    List<String> wanting = new ArrayList<>();
    box.supplyV().ifPresent(asked -> wanting.addAll(SUPPLY.wanting(asked, supplyV)));
    box.timeOnS().ifPresent(asked -> wanting.addAll(TIME_ON.wanting(asked, timeOnS)));
    return wanting;
  }

  private static final Condition SUPPLY =
      new Condition(
          Dimension.VOLTAGE,
          "the supply voltage was neither measured nor stated: measure",
          "a supply voltage of");
  private static final Condition TIME_ON =
      new Condition(
          Dimension.TIME,
          "nobody said how long the unit had been on ('--on-for'): measure",
          "a time on of");

  /**
   * A condition that is known over a span or not at all.
   *
   * @param dimension of its values
   * @param unknown the text if it is not known
   * @param at the name of a value of it
   */
  private record Condition(Dimension dimension, String unknown, String at) {
    List<String> wanting(ClosedInterval asked, Optional<ClosedInterval> known) {
      double slack = SLACK_RATIO * Math.max(Math.abs(asked.lower()), Math.abs(asked.upper()));
      List<Double> missing = new ArrayList<>();
      for (double end : new double[] {asked.lower(), asked.upper()}) {
        if (known.filter(k -> k.contains(end, slack)).isEmpty()) {
          missing.add(end);
        }
      }
      return missing.isEmpty()
          ? List.of()
          : List.of((known.isEmpty() ? unknown : "measure") + " at " + at + " " + values(missing));
    }

    private String values(List<Double> missing) {
      return String.join(
          " and ", missing.stream().distinct().map(v -> QuantityText.print(v, dimension)).toList());
    }
  }
}
