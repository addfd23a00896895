// SPDX-License-Identifier: Apache-2.0
package millrace.run.condition;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import millrace.bench.Bench;
import millrace.bench.BenchFile;
import millrace.bench.InstrumentLimits;
import millrace.bench.role.ManualTaskContext;
import millrace.bench.role.RoleName;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetPart;

/**
 * Groups what a person has to set in the loop, so that each change of conditions is one task with
 * the source off. Does nothing where no instrument in the loop is set by hand. Single-threaded.
 */
final class ManualTaskGrouping {
  private static final List<RoleName> IN_LOOP =
      List.of(
          RoleName.LOAD,
          RoleName.RANGE_SELECTOR,
          RoleName.SWITCH,
          RoleName.REVERSER,
          RoleName.CURRENT_METER);

  private final Bench bench;
  private final ManualTaskContext place;
  private final boolean any;
  private boolean open;

  ManualTaskGrouping(Bench bench, Datasheet datasheet) {
    this.bench = bench;
    this.place = bench.workplace();
    this.any = IN_LOOP.stream().anyMatch(bench::isByHand);
    place.volts(mostV(datasheet, bench.file()));
  }

  /**
   * The voltage that can stand at the terminals while the source is on: the highest of all sources,
   * since a faulty unit passes its supply on; empty where none is stated.
   */
  private static OptionalDouble mostV(Datasheet sheet, BenchFile bench) {
    OptionalDouble supply =
        sheet.parts().values().stream()
            .filter(DatasheetPart.Supply.class::isInstance)
            .mapToDouble(p -> ((DatasheetPart.Supply) p).voltageV())
            .max();
    Optional<Double> fed =
        bench.facts(RoleName.SUPPLY).map(f -> f.allowed()).flatMap(InstrumentLimits::mostV);
    Optional<Double> promised =
        sheet.ranges().keySet().stream()
            .flatMap(name -> sheet.complianceVoltageV(name).stream())
            .max(Comparator.naturalOrder());
    double most =
        DoubleStream.of(
                sheet.openCircuitVoltageV().orElse(0.0),
                supply.orElse(0),
                fed.orElse(0.0),
                promised.orElse(0.0))
            .max()
            .getAsDouble();
    return most > 0 ? OptionalDouble.of(most) : OptionalDouble.empty();
  }

  /** Whether anything in the loop is set by hand. */
  boolean any() {
    return any;
  }

  /** Notes that an instrument has made the loop quiet. */
  void held(RoleName by, String how) {
    if (any) {
      place.held("%s '%s' %s".formatted(by.text(), bench.nameIn(by).orElseThrow(), how));
    }
  }

  /** Notes that only a person can make the loop quiet. */
  void quiet() {
    if (any) {
      place.quiet();
    }
  }

  /** Has the person do all grouped tasks, and leave the source off. */
  void stay() {
    if (any) {
      place.stay();
    }
  }

  /** Has the person do all grouped tasks, and then switch the source on. */
  void on() {
    if (any) {
      close();
      place.on();
    }
  }

  /** The dial of the unit itself is turned, whatever else is set by hand. */
  void dial(String task) {
    if (any) {
      place.loop(task);
    } else {
      place.task("the unit under test", task + " (at its panel; touch no terminal)");
    }
  }

  /**
   * Called before an instrument changes the loop: a person must have switched the source off by
   * then.
   */
  void before(RoleName role) {
    if (any && bench.in(role, Object.class).isPresent() && !bench.isByHand(role)) {
      place.beforeInstrument();
    }
  }

  /** Opens the loop for a zero where no switch can: nothing may flow in the current meter. */
  void open() {
    if (any && !open) {
      place.loop("Take off the lead that brings the current to " + meter() + ", and leave it off");
      open = true;
    }
    if (any && !bench.isByHand(RoleName.CURRENT_METER)) {
      place.stay();
    }
  }

  /** Closes it again, before anything else is set. */
  void close() {
    if (open) {
      place.loop("Put the lead back that brings the current to " + meter());
      open = false;
    }
  }

  private String meter() {
    return bench.file().shuntInUse().isPresent()
        ? "the shunt"
        : "current meter '%s'".formatted(bench.nameIn(RoleName.CURRENT_METER).orElse(""));
  }
}
