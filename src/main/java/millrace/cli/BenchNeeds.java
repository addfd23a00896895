package millrace.cli;

import java.util.Optional;
import millrace.bench.BenchFile;
import millrace.bench.BenchFile.Band;
import millrace.bench.LoadBox;
import millrace.bench.role.RoleName;
import millrace.datasheet.Datasheet;
import millrace.fault.Fault;
import millrace.fault.Faults;
import millrace.fault.Place;
import millrace.quantity.Dimension;
import millrace.quantity.Quantities;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Task;

/** Whether a bench can do what a plan asks, before anything is touched. */
final class BenchNeeds {
  private final BenchFile bench;
  private final Faults faults = new Faults();

  private BenchNeeds(BenchFile bench) {
    this.bench = bench;
  }

  static void check(Plan plan, Datasheet datasheet, BenchFile bench) {
    BenchNeeds needs = new BenchNeeds(bench);
    needs.roles(plan, datasheet);
    needs.bounds(plan);
    needs.loads(plan);
    needs.faults.throwIfAny();
  }

  private void roles(Plan plan, Datasheet datasheet) {
    plan.points().stream()
        .filter(p -> p.task().kind().isPresent())
        .findFirst()
        .ifPresent(p -> need(RoleName.CURRENT_METER, p.place(), "reads the current"));
    plan.points().stream()
        .filter(p -> p.conditions().temperatureDegC().isPresent())
        .findFirst()
        .ifPresent(p -> need(RoleName.CHAMBER, p.place(), "holds the temperatures"));
    plan.points().stream()
        .filter(p -> p.conditions().loadOhm().isPresent())
        .findFirst()
        .ifPresent(p -> need(RoleName.LOAD, p.place(), "sets the loads"));
    plan.points().stream()
        .filter(p -> p.conditions().supplyV().isPresent())
        .findFirst()
        .ifPresent(p -> need(RoleName.SUPPLY, p.place(), "sets the supply voltages"));
    plan.points().stream()
        .filter(p -> p.task() instanceof Task.CheckStandard)
        .findFirst()
        .ifPresent(p -> need(RoleName.SWITCH, p.place(), "reaches the check standard"));
    if (datasheet.ranges().size() > 1) {
      plan.points().stream()
          .filter(p -> p.conditions().range().isPresent())
          .findFirst()
          .ifPresent(p -> need(RoleName.RANGE_SELECTOR, p.place(), "selects the ranges"));
    }
  }

  private void need(RoleName role, Place asked, String does) {
    if (bench.in(role).isEmpty()) {
      faults.add(
          new Fault(
              asked,
              "the bench '%s' has no %s".formatted(bench.name(), role.text()),
              "an instrument in that role, which " + does,
              "Add it to the bench file under 'roles', or take the step out."));
    }
  }

  /** A sequence that asks for more than an interlock allows is refused. */
  private void bounds(Plan plan) {
    Optional<Band> chamber = bench.interlocks().chamberDegC();
    for (PlannedPoint p : plan.points()) {
      if (chamber.isPresent() && p.conditions().temperatureDegC().isPresent()) {
        double degC = p.conditions().temperatureDegC().getAsDouble();
        if (!chamber.get().contains(degC)) {
          faults.add(
              new Fault(
                  p.place(),
                  "%s is asked for".formatted(print(degC)),
                  "from %s to %s, the interlock on the chamber temperature"
                      .formatted(print(chamber.get().lower()), print(chamber.get().upper())),
                  "Change the sequence, or the interlock after thinking about it."));
          return;
        }
      }
    }
  }

  /** A load that would be given more than its decade bears is refused. */
  private void loads(Plan plan) {
    LoadBox box = bench.facts(RoleName.LOAD).map(BenchFile.RoleFacts::box).orElse(LoadBox.NONE);
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

  private static Fault overloaded(PlannedPoint p, LoadBox box) {
    double ohm = p.conditions().loadOhm().orElseThrow();
    LoadBox.Limit limit = box.bears(ohm).orElseThrow();
    return new Fault(
        p.place(),
        "%s through %s of the load"
            .formatted(
                Quantities.print(p.conditions().nominalA().orElseThrow(), Dimension.CURRENT, 4),
                Quantities.print(ohm, Dimension.RESISTANCE, 4)),
        "at most %s and %s, which is what this decade bears"
            .formatted(
                Quantities.print(limit.mostV(), Dimension.VOLTAGE, 3),
                Quantities.print(limit.mostW(), Dimension.POWER, 3)),
        "Take the load out of the sequence, or use one that bears more.");
  }

  private static String print(double degC) {
    return Quantities.print(degC, Dimension.TEMPERATURE);
  }
}
