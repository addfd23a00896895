// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.bench.BenchFile;
import millrace.bench.BenchFile.Entry;
import millrace.bench.InstrumentLimits;
import millrace.bench.Interlocks;
import millrace.bench.RoleFacts;
import millrace.bench.role.RoleName;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetPart;
import millrace.fault.InputFault;
import millrace.fault.InputFaultList;
import millrace.quantity.ClosedInterval;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;

/** Checks that a plan stays within the limits that the bench file sets for its instruments. */
public final class BenchLimitCheck {
  private final BenchFile bench;
  private final InputFaultList faults;

  private BenchLimitCheck(BenchFile bench, InputFaultList faults) {
    this.bench = bench;
    this.faults = faults;
  }

  /** Adds faults for values beyond the limits, and for required limits that are missing. */
  static void check(Plan plan, Datasheet sheet, BenchFile bench, InputFaultList faults) {
    missing(bench, faults);
    BenchLimitCheck allows = new BenchLimitCheck(bench, faults);
    allows.supply(plan, sheet);
    allows.chamber(plan);
    inputs(bench, BenchVoltageSources.of(plan, sheet, bench), faults);
  }

  /** A supply or a chamber without stated limits is not used. */
  public static void missing(BenchFile bench, InputFaultList faults) {
    bench
        .in(RoleName.SUPPLY)
        .filter(e -> allowed(e, RoleName.SUPPLY).mostV().isEmpty())
        .ifPresent(
            e ->
                faults.add(
                    unsaid(e, "supply", "at most: {voltage: 30 V, current: 100 mA}", "the unit")));
    bench
        .in(RoleName.CHAMBER)
        .filter(e -> allowed(e, RoleName.CHAMBER).betweenDegC().isEmpty())
        .ifPresent(
            e ->
                faults.add(unsaid(e, "chamber", "between: [-20 degC, 70 degC]", "unit and leads")));
    bench
        .in(RoleName.CHAMBER)
        .filter(e -> allowed(e, RoleName.CHAMBER).mostKPerS().isEmpty())
        .ifPresent(e -> faults.add(unsaid(e, "chamber", "ramp at most: 3 K/min", "the unit")));
  }

  private static InstrumentLimits allowed(Entry entry, RoleName role) {
    return entry.roles().get(role).allowed();
  }

  private static InputFault unsaid(Entry entry, String role, String example, String who) {
    return new InputFault(
        entry.place(),
        "nothing says how far the %s '%s' may go".formatted(role, entry.name()),
        "'%s', with the figures that %s bear%s"
            .formatted(example, who, who.equals("the unit") ? "s" : ""),
        "Write it under 'roles: %s:' of '%s'; nothing beyond is ever sent to it."
            .formatted(role, entry.name()));
  }

  private void supply(Plan plan, Datasheet sheet) {
    Optional<InstrumentLimits> allowed = bench.facts(RoleName.SUPPLY).map(RoleFacts::allowed);
    allowed
        .flatMap(InstrumentLimits::mostV)
        .ifPresent(
            most -> {
              asked(plan, most);
              usual(plan, sheet, most);
            });
    allowed.flatMap(InstrumentLimits::mostA).ifPresent(most -> current(plan, most));
  }

  private void asked(Plan plan, double most) {
    plan.points().stream()
        .filter(p -> p.conditions().supplyV().orElse(0) > most)
        .findFirst()
        .ifPresent(
            p ->
                refuse(
                    p,
                    "a supply of " + volts(p.conditions().supplyV().getAsDouble()),
                    "at most %s, as '%s' is allowed".formatted(volts(most), supplyWords())));
  }

  /** If the sequence sets no supply voltage, that of the datasheet is set. */
  private void usual(Plan plan, Datasheet sheet, double most) {
    OptionalDouble usual =
        sheet.parts().values().stream()
            .filter(DatasheetPart.Supply.class::isInstance)
            .mapToDouble(p -> ((DatasheetPart.Supply) p).voltageV())
            .findFirst();
    if (usual.orElse(0) > most) {
      plan.points().stream()
          .filter(p -> p.conditions().supplyV().isEmpty())
          .findFirst()
          .ifPresent(
              p ->
                  refuse(
                      p,
                      "the supply of %s that the datasheet names among its parts"
                          .formatted(volts(usual.getAsDouble())),
                      "at most %s, as '%s' is allowed".formatted(volts(most), supplyWords())));
    }
  }

  private void current(Plan plan, double most) {
    plan.points().stream()
        .filter(p -> Math.abs(p.conditions().nominalA().orElse(0)) > most)
        .findFirst()
        .ifPresent(
            p ->
                refuse(
                    p,
                    QuantityText.print(p.conditions().nominalA().getAsDouble(), Dimension.CURRENT)
                        + " from the supply",
                    "at most %s, as '%s' is allowed"
                        .formatted(QuantityText.print(most, Dimension.CURRENT), supplyWords())));
  }

  private String supplyWords() {
    return bench.in(RoleName.SUPPLY).map(Entry::name).orElse("supply");
  }

  private static String volts(double v) {
    return BenchVoltageSources.print(v);
  }

  private void chamber(Plan plan) {
    Optional<Entry> entry = bench.in(RoleName.CHAMBER);
    if (entry.isEmpty()) {
      return;
    }
    InstrumentLimits allowed = allowed(entry.get(), RoleName.CHAMBER);
    allowed.betweenDegC().ifPresent(band -> between(plan, band, entry.get().name()));
    allowed.mostKPerS().ifPresent(most -> ramp(plan, most, entry.get().name()));
  }

  private void between(Plan plan, ClosedInterval band, String name) {
    plan.points().stream()
        .filter(p -> p.conditions().temperatureDegC().isPresent())
        .filter(p -> !band.contains(p.conditions().temperatureDegC().getAsDouble()))
        .findFirst()
        .ifPresent(
            p ->
                refuse(
                    p,
                    QuantityText.print(
                        p.conditions().temperatureDegC().getAsDouble(), Dimension.TEMPERATURE),
                    "%s, as the chamber '%s' is allowed"
                        .formatted(band.inWords(Dimension.TEMPERATURE), name)));
  }

  private void ramp(Plan plan, double most, String name) {
    plan.points().stream()
        .filter(p -> p.temperature().isPresent())
        .filter(p -> Double.isFinite(p.temperature().get().rampKPerS()))
        .filter(p -> p.temperature().get().rampKPerS() > most * (1 + 1e-9))
        .findFirst()
        .ifPresent(
            p ->
                refuse(
                    p,
                    "a ramp of " + rate(p.temperature().get().rampKPerS()),
                    "at most %s, as the chamber '%s' is allowed".formatted(rate(most), name)));
  }

  private static String rate(double kPerS) {
    return QuantityText.print(kPerS, Dimension.TEMPERATURE_RATE, 3);
  }

  private void refuse(PlannedPoint p, String asked, String expected) {
    faults.add(
        new InputFault(
            p.place(),
            asked + " is asked for",
            expected,
            "Change the sequence, or the bench file after thinking about it."));
  }

  /**
   * Refuses a meter whose input withstands less than the highest voltage that the bench can make.
   */
  public static void inputs(BenchFile bench, BenchVoltageSources voltages, InputFaultList faults) {
    voltages
        .tooMuchFor(bench)
        .forEach(
            meter ->
                faults.add(
                    new InputFault(
                        meter.place(),
                        "the input of the %s bears %s, and %s, can come to it"
                            .formatted(
                                meter.meter(),
                                volts(meter.inputV()),
                                voltages.highest().orElseThrow()),
                        "a meter that bears all that can make voltage on this bench",
                        "Use another meter, or make sure by 'at most' of the supply that less is"
                            + " made.")));
  }

  /** Warnings about limits that the bench file does not state, whole sentences. */
  public static List<String> warnings(Plan plan, BenchVoltageSources voltages, BenchFile bench) {
    List<String> found = new ArrayList<>();
    if (bench.interlocks().equals(Interlocks.NONE)) {
      found.add(
          "CAUTION: the bench '%s' has no interlocks: nothing ends a run whose temperature, voltage or current goes astray. Add 'interlocks' to its file."
              .formatted(bench.name()));
    } else if (!plan.stays().isEmpty() && !bench.interlocks().chamber().bounded()) {
      found.add(
          "CAUTION: no interlock watches the chamber's temperature. Add 'chamber temperature' to"
              + " the interlocks of the bench file.");
    }
    if (!voltages.dangerous().isEmpty()) {
      bench.instruments().values().forEach(e -> found.addAll(unstated(e, voltages)));
    }
    return found;
  }

  private static List<String> unstated(Entry entry, BenchVoltageSources voltages) {
    List<String> found = new ArrayList<>();
    for (Map.Entry<RoleName, RoleFacts> each : entry.roles().entrySet()) {
      boolean meter =
          switch (each.getKey()) {
            case CURRENT_METER, VOLTMETER, SHUNT_VOLTMETER -> true;
            default -> false;
          };
      if (meter && each.getValue().allowed().inputV().isEmpty()) {
        found.add(
            "CAUTION: nothing says what the input of the %s '%s' bears, and %s can come to it. Add 'input at most' to its role."
                .formatted(
                    each.getKey().text(),
                    entry.name(),
                    volts(voltages.highest().orElseThrow().volts())));
      }
    }
    return found;
  }
}
