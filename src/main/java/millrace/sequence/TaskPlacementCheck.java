// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Supplier;
import millrace.evidence.PointConditions;
import millrace.fault.InputFault;
import millrace.sequence.Plan.TemperatureRule;

/** Tells why a task cannot be placed where it is. */
final class TaskPlacementCheck {
  private final Step.Do step;
  private final PointConditions conditions;
  private final List<String> slots;

  private TaskPlacementCheck(Step.Do step, PointConditions conditions, List<String> slots) {
    this.step = step;
    this.conditions = conditions;
    this.slots = slots;
  }

  static Optional<InputFault> why(Step.Do step, StepScope scope, List<String> slots) {
    Task task = step.task();
    PointConditions c = scope.conditions();
    boolean soaks = scope.temperature().filter(TemperatureRule::soaking).isPresent();
    if (soaks && !task.traits().contains(Task.Trait.WHILE_SOAKING)) {
      return fault(
          step,
          "the current is measured while it soaks, when it still moves",
          "'zero', 'find the knee', 'known resistor' or 'check standard' there, and this under"
              + " 'do'");
    }
    return new TaskPlacementCheck(step, c, slots).why(task.traits());
  }

  private Optional<InputFault> why(Set<Task.Trait> traits) {
    return when(traits.contains(Task.Trait.THROUGH_ALL), () -> outsideSlot().or(this::notAlone))
        .or(() -> when(traits.contains(Task.Trait.IN_A_RANGE), this::outsideRange))
        .or(() -> when(traits.contains(Task.Trait.OUTSIDE_LOADS), this::insideLoads))
        .or(() -> when(traits.contains(Task.Trait.AT_A_RESISTOR), this::noResistor));
  }

  private static Optional<InputFault> when(boolean asked, Supplier<Optional<InputFault>> fault) {
    return asked ? fault.get() : Optional.empty();
  }

  private Optional<InputFault> outsideSlot() {
    return slots.size() > 1 && conditions.slot().isEmpty()
        ? fault(
            step,
            "readings are asked for outside a slot, and units sit in " + slots.size() + " slots",
            "'in slots: all' around them")
        : Optional.empty();
  }

  private Optional<InputFault> outsideRange() {
    return outsideSlot()
        .or(
            () ->
                conditions.range().isEmpty()
                    ? fault(
                        step,
                        "readings are asked for outside a range",
                        "'in ranges: ...' around them")
                    : Optional.empty());
  }

  private Optional<InputFault> notAlone() {
    boolean alone = conditions.range().isEmpty() && conditions.loadOhm().isEmpty();
    return alone
        ? Optional.empty()
        : fault(
            step,
            "the trial lap stands inside ranges or loads",
            "it outside, since it goes through all of them by itself");
  }

  private Optional<InputFault> insideLoads() {
    return conditions.loadOhm().isPresent()
        ? fault(
            step, "the search for the knee stands inside loads", "it outside: it sets the loads")
        : Optional.empty();
  }

  private Optional<InputFault> noResistor() {
    return conditions.loadOhm().orElse(0) > 0
        ? Optional.empty()
        : fault(
            step,
            "a known resistor is asked for without one",
            "'over loads: {resistance: ...}' around it, with values above 0 ohm");
  }

  private static Optional<InputFault> fault(Step.Do step, String found, String expected) {
    return Optional.of(InputFault.of(step.place(), found, expected));
  }
}
