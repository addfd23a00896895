package millrace.cli;

import java.util.Optional;
import millrace.bench.BenchFile;
import millrace.bench.BenchFile.Band;
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

  private static String print(double degC) {
    return Quantities.print(degC, Dimension.TEMPERATURE);
  }
}
