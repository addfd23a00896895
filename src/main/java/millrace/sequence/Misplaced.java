package millrace.sequence;

import java.util.List;
import java.util.Optional;
import millrace.evidence.Conditions;
import millrace.fault.Fault;
import millrace.sequence.Plan.TemperatureRule;

/** Tells why a task cannot stand where it stands. */
final class Misplaced {
  private Misplaced() {}

  static Optional<Fault> why(Step.Do step, Scope scope, List<String> slots) {
    Task task = step.task();
    Conditions c = scope.conditions();
    if (task.kind().isEmpty() || task instanceof Task.CheckStandard) {
      return Optional.empty();
    }
    if (scope.temperature().filter(TemperatureRule::soaking).isPresent() && !onTheWay(task)) {
      return fault(
          step,
          "the current is measured while it soaks, when it still moves",
          "'zero', 'find the knee', 'known resistor' or 'check standard' there, and this under 'do'");
    }
    if (slots.size() > 1 && c.slot().isEmpty()) {
      return fault(
          step,
          "readings are asked for outside a slot, and units sit in " + slots.size() + " slots",
          "'in slots: all' around them");
    }
    if (task instanceof Task.TrialLap) {
      return trialLap(step, c);
    }
    if (c.range().isEmpty()) {
      return fault(step, "readings are asked for outside a range", "'in ranges: ...' around them");
    }
    return byLoad(step, c);
  }

  /** What hardly depends on the temperature of the unit. */
  private static boolean onTheWay(Task task) {
    return task instanceof Task.Zero
        || task instanceof Task.FindKnee
        || task instanceof Task.KnownResistor;
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

  private static Optional<Fault> byLoad(Step.Do step, Conditions c) {
    boolean loaded = c.loadOhm().isPresent();
    if (step.task() instanceof Task.FindKnee && loaded) {
      return fault(
          step, "the search for the knee stands inside loads", "it outside: it sets the loads");
    }
    boolean known = loaded && c.loadOhm().getAsDouble() > 0;
    if (step.task() instanceof Task.KnownResistor && !known) {
      return fault(
          step,
          "a known resistor is asked for without one",
          "'over loads: {resistance: ...}' around it, with values above 0 ohm");
    }
    return Optional.empty();
  }

  private static Optional<Fault> fault(Step.Do step, String found, String expected) {
    return Optional.of(Fault.of(step.place(), found, expected));
  }
}
