// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.ToDoubleFunction;
import java.util.stream.Collectors;
import millrace.bench.BenchFile;
import millrace.bench.InstrumentLimits;
import millrace.bench.RoleFacts;
import millrace.bench.role.RoleName;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetPart;
import millrace.fault.FilePlace;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;

/**
 * All sources of voltage on a bench: the unit itself, its supply, the settings in a sequence, the
 * limit of a supply in the bench file. A program cannot know which of them reaches a terminal, so
 * the highest counts everywhere.
 *
 * @param sources all of them, the highest first
 */
public record BenchVoltageSources(List<Source> sources) {

  /**
   * One source.
   *
   * @param volts V, 0 or more
   * @param what its origin, in words with its place
   */
  record Source(double volts, String what) {
    @Override
    public String toString() {
      return print(volts) + ", " + what;
    }
  }

  /** Copies the lists. */
  public BenchVoltageSources {
    sources =
        sources.stream().sorted(Comparator.comparingDouble(Source::volts).reversed()).toList();
  }

  /** Rounds a voltage to six decimals. */
  static String print(double volts) {
    return QuantityText.print(Math.rint(volts * 1e6) / 1e6, Dimension.VOLTAGE);
  }

  /** The sources during a run of a plan. */
  public static BenchVoltageSources of(Plan plan, Datasheet sheet, BenchFile bench) {
    List<Source> all = new ArrayList<>(of(sheet, bench).sources());
    asked(plan, p -> p.conditions().supplyV().orElse(0), "the supply voltage asked for at ")
        .ifPresent(all::add);
    if (sheet.openCircuitVoltageV().isEmpty()) {
      asked(plan, BenchVoltageSources::acrossLoad, "current times load asked for at ")
          .ifPresent(all::add);
    }
    return new BenchVoltageSources(all);
  }

  /** The sources of a bench with a unit, whatever the plan. */
  public static BenchVoltageSources of(Datasheet sheet, BenchFile bench) {
    List<Source> all = new ArrayList<>();
    sheet
        .openCircuitVoltageV()
        .ifPresent(v -> all.add(new Source(v, "the open-circuit voltage of the datasheet")));
    sheet.parts().forEach((name, part) -> supply(name, part).ifPresent(all::add));
    sheet.ranges().keySet().stream()
        .flatMap(name -> sheet.complianceVoltageV(name).stream())
        .max(Comparator.naturalOrder())
        .ifPresent(v -> all.add(new Source(v, "the compliance voltage of the datasheet")));
    fed(bench).ifPresent(all::add);
    return new BenchVoltageSources(all);
  }

  private static Optional<Source> supply(String name, DatasheetPart part) {
    return part instanceof DatasheetPart.Supply s
        ? Optional.of(new Source(s.voltageV(), "supply '" + name + "' of the datasheet"))
        : Optional.empty();
  }

  private static Optional<Source> fed(BenchFile bench) {
    return bench
        .facts(RoleName.SUPPLY)
        .map(RoleFacts::allowed)
        .flatMap(InstrumentLimits::mostV)
        .map(
            v -> {
              BenchFile.Entry entry = bench.in(RoleName.SUPPLY).orElseThrow();
              return new Source(
                  v,
                  "to which the supply '%2$s' may be set (%1$s)"
                      .formatted(entry.place(), entry.name()));
            });
  }

  private static Optional<Source> asked(
      Plan plan, ToDoubleFunction<PlannedPoint> volts, String words) {
    return plan.points().stream()
        .filter(p -> volts.applyAsDouble(p) > 0)
        .max(Comparator.comparingDouble(volts))
        .map(p -> new Source(volts.applyAsDouble(p), words + p.place()));
  }

  private static double acrossLoad(PlannedPoint p) {
    return Math.abs(p.conditions().nominalA().orElse(0)) * p.conditions().loadOhm().orElse(0);
  }

  /** The sources that require the usual caution. */
  public List<Source> dangerous() {
    return sources.stream().filter(s -> s.volts() > Datasheet.CAUTION_V).toList();
  }

  /** The highest source; empty where nothing is known. */
  Optional<Source> highest() {
    return sources.stream().findFirst();
  }

  /** The caution, in two lines; empty where nothing is above 60 V DC. */
  public List<String> caution() {
    if (dangerous().isEmpty()) {
      return List.of();
    }
    return List.of(
        "CAUTION: up to %s DC can stand on this bench. Voltages above 60 V DC can injure or kill: %s."
            .formatted(
                print(dangerous().get(0).volts()),
                dangerous().stream().map(Source::toString).collect(Collectors.joining("; "))),
        "Guard every live part, work as your local codes and licensed practice ask. Millrace is not"
            + " a safety device.");
  }

  /** The place in the bench file of a meter whose input withstands less. */
  record TooMuch(FilePlace place, String meter, double inputV) {}

  /** The meters whose input withstands less than the highest source. */
  List<TooMuch> tooMuchFor(BenchFile bench) {
    List<TooMuch> found = new ArrayList<>();
    double most = highest().map(Source::volts).orElse(0.0);
    for (BenchFile.Entry entry : bench.instruments().values()) {
      entry
          .roles()
          .forEach(
              (role, facts) ->
                  facts
                      .allowed()
                      .inputV()
                      .filter(v -> v < most)
                      .ifPresent(
                          v ->
                              found.add(
                                  new TooMuch(
                                      entry.place(), role.text() + " '" + entry.name() + "'", v))));
    }
    return found;
  }
}
