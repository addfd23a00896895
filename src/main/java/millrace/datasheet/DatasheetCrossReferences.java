// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import java.util.EnumSet;
import java.util.Set;
import millrace.datasheet.Datasheet.FirstStage;
import millrace.datasheet.Datasheet.MadeFrom;
import millrace.datasheet.Datasheet.Range;
import millrace.document.FileMessageText;
import millrace.evidence.ResultQuantity;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.fault.InputFaultList;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/** Checks the cross references between parts of a datasheet. */
final class DatasheetCrossReferences {
  /**
   * Largest deviation of set voltage / resistor from the nominal current, a ratio; beyond it is an
   * error.
   */
  private static final double LARGEST_MISFIT = 0.2;

  /** Quantities other than the current with a condition on the terminal voltage. */
  private static final Set<ResultQuantity> SLOPES =
      EnumSet.of(
          ResultQuantity.OUTPUT_CONDUCTANCE,
          ResultQuantity.OUTPUT_RESISTANCE,
          ResultQuantity.LOAD_REGULATION);

  private final Datasheet datasheet;
  private final String file;
  private final InputFaultList faults;

  private DatasheetCrossReferences(Datasheet datasheet, String file, InputFaultList faults) {
    this.datasheet = datasheet;
    this.file = file;
    this.faults = faults;
  }

  static void check(Datasheet datasheet, String file, InputFaultList faults) {
    DatasheetCrossReferences check = new DatasheetCrossReferences(datasheet, file, faults);
    datasheet.limits().forEach(check::limit);
    datasheet.bins().forEach(bin -> bin.lines().forEach(check::limit));
    check.reachable();
    datasheet.ranges().values().forEach(r -> r.madeFrom().ifPresent(m -> check.madeFrom(r, m)));
  }

  private void limit(DatasheetLimit limit) {
    limit
        .range()
        .filter(name -> datasheet.range(name).isEmpty())
        .ifPresent(
            name ->
                faults.add(
                    new InputFault(
                        limit.place(),
                        "the limit is for range "
                            + FileMessageText.quoted(name)
                            + ", which does not exist",
                        FileMessageText.oneOf(datasheet.ranges().keySet()) + ", or all",
                        FileMessageText.didYouMean(name, datasheet.ranges().keySet()))));
    voltage(limit);
  }

  /**
   * A current is specified over a terminal voltage; the condition has no meaning for most other
   * quantities.
   */
  private void voltage(DatasheetLimit limit) {
    boolean stated = limit.when().terminalVoltageV().isPresent();
    boolean current =
        limit.quantity() == ResultQuantity.CURRENT
            || limit.quantity() == ResultQuantity.CURRENT_ERROR;
    if (current && !stated) {
      faults.add(
          new InputFault(
              limit.place(),
              "a limit on %s names no terminal voltage".formatted(limit.quantity().key()),
              "the voltages over which the current is promised",
              "Write 'when: {terminal voltage: [0 V, %s]}', with the temperatures if they are promised too."
                  .formatted(
                      QuantityText.print(
                          datasheet.compliance().voltageV().orElse(10.0), Dimension.VOLTAGE))));
    }
    if (stated && !current && !SLOPES.contains(limit.quantity())) {
      faults.add(
          new InputFault(
              limit.place(),
              "a limit on %s names a terminal voltage, which it does not depend on"
                  .formatted(limit.quantity().key()),
              "a terminal voltage only with current, current_error, output_conductance,"
                  + " output_resistance and load_regulation",
              "Take 'terminal voltage' out."));
    }
  }

  /** A bin without lines takes every unit, so later bins stay empty. */
  private void reachable() {
    for (int i = 0; i + 1 < datasheet.bins().size(); i++) {
      if (datasheet.bins().get(i).lines().isEmpty()) {
        faults.add(
            new InputFault(
                FilePlace.of(file),
                "bin %s takes everything, and bin %s behind it nothing"
                    .formatted(
                        FileMessageText.quoted(datasheet.bins().get(i).name()),
                        FileMessageText.quoted(datasheet.bins().get(i + 1).name())),
                "a bin without lines last",
                "Move it to the end."));
      }
    }
  }

  private void madeFrom(Range range, MadeFrom made) {
    part(range, made.reference(), DatasheetPart.Reference.class, "a reference");
    part(range, made.resistor(), DatasheetPart.Resistor.class, "a resistor");
    made.amplifier().ifPresent(n -> part(range, n, DatasheetPart.Amplifier.class, "an amplifier"));
    made.passDevice()
        .ifPresent(n -> part(range, n, DatasheetPart.PassDevice.class, "a pass device"));
    made.series().forEach(n -> part(range, n, DatasheetPart.SeriesDrop.class, "a series drop"));
    made.leakage().ifPresent(n -> part(range, n, DatasheetPart.Leakage.class, "a leakage"));
    made.supply().ifPresent(n -> part(range, n, DatasheetPart.Supply.class, "a supply"));
    made.taps().forEach(n -> part(range, n, DatasheetPart.Resistor.class, "a resistor"));
    made.firstStage().ifPresent(s -> firstStage(range, s));
    datasheet
        .setVoltageV(made)
        .ifPresent(v -> datasheet.resistanceOhm(made).ifPresent(ohm -> current(range, v / ohm)));
  }

  private void firstStage(Range range, FirstStage stage) {
    part(range, stage.resistor(), DatasheetPart.Resistor.class, "a resistor");
    stage.top().forEach(n -> part(range, n, DatasheetPart.Resistor.class, "a resistor"));
    stage.amplifier().ifPresent(n -> part(range, n, DatasheetPart.Amplifier.class, "an amplifier"));
  }

  private void current(Range range, double parts) {
    if (Math.abs(parts / Math.abs(range.nominalA()) - 1) > LARGEST_MISFIT) {
      faults.add(
          new InputFault(
              FilePlace.of(file),
              "range '%s' is %s, but its set voltage over its resistor gives %s"
                  .formatted(
                      range.name(),
                      QuantityText.print(range.nominalA(), Dimension.CURRENT, 4),
                      QuantityText.print(parts, Dimension.CURRENT, 4)),
              "the two to agree",
              "Correct the nominal current, the set voltage or the resistor."));
    }
  }

  private void part(Range range, String name, Class<? extends DatasheetPart> kind, String inWords) {
    DatasheetPart part = datasheet.parts().get(name);
    if (kind.isInstance(part)) {
      return;
    }
    String found = part == null ? "which does not exist" : "which is something else";
    faults.add(
        new InputFault(
            FilePlace.of(file),
            "range '%s' is made from %s, %s"
                .formatted(range.name(), FileMessageText.quoted(name), found),
            inWords + " among the parts",
            FileMessageText.didYouMean(name, datasheet.parts().keySet())));
  }
}
