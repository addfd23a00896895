// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.List;
import java.util.Optional;
import millrace.evidence.Conditions;
import millrace.fault.Fault;
import millrace.sequence.Plan.TemperatureRule;

/** Tells why a task cannot stand where it stands. */
final class Misplaced implements Task.Visitor<Optional<Fault>> {
  private final Step.Do step;
  private final Conditions conditions;
  private final List<String> slots;

  private Misplaced(Step.Do step, Conditions conditions, List<String> slots) {
    this.step = step;
    this.conditions = conditions;
    this.slots = slots;
  }

  static Optional<Fault> why(Step.Do step, Scope scope, List<String> slots) {
    Task task = step.task();
    Conditions c = scope.conditions();
    boolean soaks = scope.temperature().filter(TemperatureRule::soaking).isPresent();
    if (soaks && !task.traits().contains(Task.Trait.WHILE_SOAKING)) {
      return fault(
          step,
          "the current is measured while it soaks, when it still moves",
          "'zero', 'find the knee', 'known resistor' or 'check standard' there, and this under"
              + " 'do'");
    }
    return task.accept(new Misplaced(step, c, slots));
  }

  private Optional<Fault> outsideSlot() {
    return slots.size() > 1 && conditions.slot().isEmpty()
        ? fault(
            step,
            "readings are asked for outside a slot, and units sit in " + slots.size() + " slots",
            "'in slots: all' around them")
        : Optional.empty();
  }

  private Optional<Fault> outsideRange() {
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

  @Override
  public Optional<Fault> measure(Task.Measure task) {
    return outsideRange();
  }

  @Override
  public Optional<Fault> zero(Task.Zero task) {
    return outsideRange();
  }

  @Override
  public Optional<Fault> checkStandard(Task.CheckStandard task) {
    return Optional.empty();
  }

  @Override
  public Optional<Fault> findKnee(Task.FindKnee task) {
    return outsideRange().or(this::kneeInsideLoads);
  }

  @Override
  public Optional<Fault> watch(Task.Watch task) {
    return outsideRange();
  }

  @Override
  public Optional<Fault> sourceOff(Task.SourceOff task) {
    return outsideRange();
  }

  @Override
  public Optional<Fault> knownResistor(Task.KnownResistor task) {
    return outsideRange().or(this::noResistor);
  }

  @Override
  public Optional<Fault> trialLap(Task.TrialLap task) {
    return outsideSlot().or(() -> trialLap(step, conditions));
  }

  @Override
  public Optional<Fault> ask(Task.Ask task) {
    return Optional.empty();
  }

  @Override
  public Optional<Fault> waits(Task.Wait task) {
    return Optional.empty();
  }

  private static Optional<Fault> trialLap(Step.Do step, Conditions c) {
    boolean alone = c.range().isEmpty() && c.loadOhm().isEmpty();
    return alone
        ? Optional.empty()
        : fault(
            step,
            "the trial lap stands inside ranges or loads",
            "it outside, since it goes through all of them by itself");
  }

  private Optional<Fault> kneeInsideLoads() {
    return conditions.loadOhm().isPresent()
        ? fault(
            step, "the search for the knee stands inside loads", "it outside: it sets the loads")
        : Optional.empty();
  }

  private Optional<Fault> noResistor() {
    return conditions.loadOhm().orElse(0) > 0
        ? Optional.empty()
        : fault(
            step,
            "a known resistor is asked for without one",
            "'over loads: {resistance: ...}' around it, with values above 0 ohm");
  }

  private static Optional<Fault> fault(Step.Do step, String found, String expected) {
    return Optional.of(Fault.of(step.place(), found, expected));
  }
}
