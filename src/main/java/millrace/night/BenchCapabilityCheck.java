// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.util.HashSet;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import millrace.bench.BenchFile;
import millrace.bench.Interlocks;
import millrace.bench.LoadProperties;
import millrace.bench.RoleFacts;
import millrace.bench.role.RoleName;
import millrace.datasheet.Datasheet;
import millrace.document.FileMessageText;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.InputFaultList;
import millrace.link.LinkAddress;
import millrace.quantity.ClosedInterval;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.quantity.TimeSpanSeconds;
import millrace.run.soak.BenchSpeedsFromFile;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Schedule;

/** Checks that a bench can carry out a plan, before anything is touched. */
public final class BenchCapabilityCheck {
  private final BenchFile bench;
  private final InputFaultList faults = new InputFaultList();

  private BenchCapabilityCheck(BenchFile bench) {
    this.bench = bench;
  }

  /**
   * Refuses a plan that this bench cannot carry out.
   *
   * @param plan the plan
   * @param datasheet what the unit promises
   * @param bench the bench
   * @throws millrace.fault.BadInputException if a role is missing, or an instrument cannot do what
   *     a point asks
   */
  public static void check(Plan plan, Datasheet datasheet, BenchFile bench) {
    BenchCapabilityCheck needs = new BenchCapabilityCheck(bench);
    needs.roles(plan, datasheet);
    needs.bounds(plan, datasheet);
    needs.ramps(plan);
    needs.supply(plan);
    needs.times(plan, datasheet);
    needs.loads(plan);
    needs.dial(plan);
    needs.standards(plan);
    needs.allowances(plan, datasheet);
    needs.faults.throwIfAny();
  }

  private void allowances(Plan plan, Datasheet datasheet) {
    BenchLimitCheck.check(plan, datasheet, bench, faults);
  }

  private void roles(Plan plan, Datasheet datasheet) {
    Set<RoleName> asked = new HashSet<>();
    for (PlannedPoint p : plan.points()) {
      TaskNeeds.of(p, bench.standards().keySet())
          .roles()
          .forEach(
              (role, does) -> {
                if (asked.add(role)) {
                  need(role, p.place(), does);
                }
              });
    }
    plan.points().stream()
        .filter(p -> p.conditions().temperatureDegC().isPresent())
        .findFirst()
        .ifPresent(p -> need(RoleName.CHAMBER, p.place(), "holds the temperatures"));
    plan.points().stream()
        .filter(p -> p.conditions().loadOhm().isPresent())
        .findFirst()
        .filter(p -> asked.add(RoleName.LOAD))
        .ifPresent(p -> need(RoleName.LOAD, p.place(), "sets the loads"));
    plan.points().stream()
        .filter(p -> p.conditions().supplyV().isPresent())
        .findFirst()
        .ifPresent(p -> need(RoleName.SUPPLY, p.place(), "sets the supply voltages"));
    if (datasheet.ranges().size() > 1) {
      plan.points().stream()
          .filter(p -> p.conditions().range().isPresent())
          .findFirst()
          .ifPresent(p -> need(RoleName.RANGE_SELECTOR, p.place(), "selects the ranges"));
    }
  }

  private void need(RoleName role, FilePlace asked, String does) {
    if (bench.in(role).isEmpty()) {
      faults.add(
          new InputFault(
              asked,
              "the bench '%s' has no %s".formatted(bench.name(), role.text()),
              "an instrument in that role, which " + does,
              "Add it to the bench file under 'roles', or take the step out."));
    }
  }

  /** A person turns the dial of a unit; a simulated unit has no dial and no person. */
  private void dial(Plan plan) {
    boolean byHand =
        bench.instruments().values().stream()
            .anyMatch(e -> e.address() instanceof LinkAddress.ByHand);
    if (bench.simulated() && !byHand) {
      plan.points().stream()
          .filter(p -> p.conditions().setA().isPresent())
          .findFirst()
          .ifPresent(
              p ->
                  faults.add(
                      new InputFault(
                          p.place(),
                          "set currents, which a simulated unit cannot be set to",
                          "a bench at which a person sets the source",
                          "Take the step out, or run it on such a bench.")));
    }
  }

  /** A check standard given by name must exist; 'all' may be none. */
  private void standards(Plan plan) {
    Set<String> asked = new HashSet<>();
    for (PlannedPoint p : plan.points()) {
      TaskNeeds.of(p, bench.standards().keySet()).standards().stream()
          .filter(name -> !bench.standards().containsKey(name) && asked.add(name))
          .forEach(name -> faults.add(unknown(p.place(), name)));
    }
  }

  private InputFault unknown(FilePlace place, String name) {
    Set<String> known = bench.standards().keySet();
    return new InputFault(
        place,
        "the bench '%s' has no check standard %s"
            .formatted(bench.name(), FileMessageText.quoted(name)),
        known.isEmpty()
            ? "one under 'check standards' of the bench file"
            : FileMessageText.oneOf(known),
        known.isEmpty()
            ? "Add it to the bench file, or say 'all', which may be none."
            : FileMessageText.didYouMean(name, known));
  }

  /** A sequence that asks for more than an interlock allows is refused. */
  private void bounds(Plan plan, Datasheet datasheet) {
    Interlocks bounds = bench.interlocks();
    for (PlannedPoint p : plan.points()) {
      boolean refused =
          temperature(p, bounds.chamber().degC(), "chamber temperature")
              || temperature(p, bounds.unit().degC(), "unit temperature")
              || voltage(p, datasheet);
      if (refused) {
        return;
      }
    }
  }

  private boolean temperature(PlannedPoint p, Optional<ClosedInterval> band, String what) {
    OptionalDouble degC = p.conditions().temperatureDegC();
    if (band.isEmpty() || degC.isEmpty() || band.get().contains(degC.getAsDouble())) {
      return false;
    }
    refuse(
        p,
        print(degC.getAsDouble(), Dimension.TEMPERATURE),
        "from %s to %s, the interlock on the %s"
            .formatted(
                print(band.get().lower(), Dimension.TEMPERATURE),
                print(band.get().upper(), Dimension.TEMPERATURE),
                what));
    return true;
  }

  /** The voltage at the terminals: current times load, at most the open-circuit voltage. */
  private boolean voltage(PlannedPoint p, Datasheet datasheet) {
    Optional<Double> most = bench.interlocks().terminalV();
    if (most.isEmpty() || p.conditions().loadOhm().isEmpty()) {
      return false;
    }
    double asked =
        Math.abs(p.conditions().nominalA().orElse(0)) * p.conditions().loadOhm().getAsDouble();
    double volts = Math.min(asked, datasheet.openCircuitVoltageV().orElse(Double.MAX_VALUE));
    if (volts <= most.get()) {
      return false;
    }
    refuse(
        p,
        print(volts, Dimension.VOLTAGE) + " at the terminals",
        "at most %s, the interlock on the terminal voltage"
            .formatted(print(most.get(), Dimension.VOLTAGE)));
    return true;
  }

  private void ramps(Plan plan) {
    Interlocks bounds = bench.interlocks();
    double most =
        Math.min(
            bounds.chamber().mostKPerS().orElse(Double.POSITIVE_INFINITY),
            bounds.unit().mostKPerS().orElse(Double.POSITIVE_INFINITY));
    plan.points().stream()
        .filter(p -> p.temperature().isPresent())
        .filter(p -> Double.isFinite(p.temperature().get().rampKPerS()))
        .filter(p -> p.temperature().get().rampKPerS() > most)
        .findFirst()
        .ifPresent(
            p ->
                refuse(
                    p,
                    "a ramp of " + rate(p.temperature().get().rampKPerS()),
                    "at most %s, the interlock on the rate of a temperature"
                        .formatted(rate(most))));
  }

  private static String rate(double kPerS) {
    return QuantityText.print(kPerS, Dimension.TEMPERATURE_RATE, 3);
  }

  /** The supply must deliver the current of the unit. */
  private void supply(Plan plan) {
    double most = bench.interlocks().supplyA().orElse(Double.POSITIVE_INFINITY);
    plan.points().stream()
        .filter(p -> Math.abs(p.conditions().nominalA().orElse(0)) > most)
        .findFirst()
        .ifPresent(
            p ->
                refuse(
                    p,
                    QuantityText.print(
                        p.conditions().nominalA().orElseThrow(), Dimension.CURRENT, 4),
                    "at most %s, the interlock on the supply current"
                        .formatted(QuantityText.print(most, Dimension.CURRENT))));
  }

  private void times(Plan plan, Datasheet datasheet) {
    Interlocks bounds = bench.interlocks();
    double quiet = bounds.silenceS().orElse(Double.POSITIVE_INFINITY);
    plan.points().stream()
        .filter(p -> p.rules().settle().waitS() > quiet)
        .findFirst()
        .ifPresent(
            p ->
                refuse(
                    p,
                    "to settle for " + print(p.rules().settle().waitS(), Dimension.TIME),
                    "less than %s, the interlock on the age of the last good reading"
                        .formatted(print(quiet, Dimension.TIME))));
    if (bounds.hours().isPresent() && !plan.points().isEmpty()) {
      double total =
          TimeSpanSeconds.seconds(
              Schedule.of(plan, datasheet, BenchSpeedsFromFile.of(bench)).total());
      if (total > bounds.hours().get().spanS()) {
        refuse(
            plan.points().get(plan.points().size() - 1),
            "about " + QuantityText.print(total, Dimension.TIME, 3),
            "no longer than the hours of the interlock, " + bounds.hours().get());
      }
    }
  }

  private void refuse(PlannedPoint p, String asked, String expected) {
    faults.add(
        new InputFault(
            p.place(),
            asked + " is asked for",
            expected,
            "Change the sequence, or the interlock after thinking about it."));
  }

  /** Refuses a load at which a decade would carry too much. */
  private void loads(Plan plan) {
    LoadProperties box = bench.facts(RoleName.LOAD).map(RoleFacts::box).orElse(LoadProperties.NONE);
    plan.points().stream()
        .filter(p -> p.conditions().loadOhm().isPresent())
        .filter(p -> p.conditions().nominalA().isPresent())
        .filter(
            p ->
                box.overloaded(
                    p.conditions().loadOhm().getAsDouble(),
                    p.conditions().nominalA().getAsDouble()))
        .findFirst()
        .ifPresent(p -> faults.add(overloaded(p, box)));
  }

  private static InputFault overloaded(PlannedPoint p, LoadProperties box) {
    double ohm = p.conditions().loadOhm().orElseThrow();
    LoadProperties.Limit limit = box.bears(ohm).orElseThrow();
    return new InputFault(
        p.place(),
        "%s through %s of the load"
            .formatted(
                QuantityText.print(p.conditions().nominalA().orElseThrow(), Dimension.CURRENT, 4),
                QuantityText.print(ohm, Dimension.RESISTANCE, 4)),
        "at most %s and %s, which is what this decade bears"
            .formatted(
                QuantityText.print(limit.mostV(), Dimension.VOLTAGE, 3),
                QuantityText.print(limit.mostW(), Dimension.POWER, 3)),
        "Take the load out of the sequence, or use one that bears more.");
  }

  private static String print(double value, Dimension dimension) {
    return QuantityText.print(Math.rint(value * 1e6) / 1e6, dimension);
  }
}
