// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.design;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.analysis.design.DesignAssumptions;
import millrace.analysis.design.DesignCircuit;
import millrace.analysis.design.DesignPart;
import millrace.analysis.design.RangeDesign;
import millrace.datasheet.Datasheet;
import millrace.datasheet.Datasheet.MadeFrom;
import millrace.datasheet.DatasheetPart;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/** Converts the parts of a datasheet to a circuit design for computation (methods.md 10). */
public final class DesignFromDatasheet {
  /**
   * A reference and a set voltage that differ by less count as equal, one written with fewer
   * digits.
   */
  private static final double SAME_VOLTAGE = 1e-3;

  private final Datasheet datasheet;

  private DesignFromDatasheet(Datasheet datasheet) {
    this.datasheet = datasheet;
  }

  /**
   * The design that a datasheet states.
   *
   * @param datasheet a datasheet, its cross references checked
   * @return the circuit of all ranges that state their parts; empty if none does
   */
  public static Optional<DesignCircuit> of(Datasheet datasheet) {
    DesignFromDatasheet design = new DesignFromDatasheet(datasheet);
    List<RangeDesign> ranges =
        datasheet.ranges().values().stream().flatMap(r -> design.range(r).stream()).toList();
    return ranges.isEmpty()
        ? Optional.empty()
        : Optional.of(
            new DesignCircuit(
                datasheet.referenceTemperatureDegC(), ranges, DesignAssumptions.USUAL));
  }

  /**
   * Notes on how the parts were read.
   *
   * @param datasheet the datasheet
   * @return a sentence each; may be empty
   */
  public static List<String> notes(Datasheet datasheet) {
    List<String> notes = new ArrayList<>();
    datasheet
        .ranges()
        .values()
        .forEach(
            r -> {
              if (r.madeFrom().isEmpty()) {
                notes.add("range " + r.name() + " does not say what it is made from");
              } else {
                otherVoltage(datasheet, r.name(), r.madeFrom().get()).ifPresent(notes::add);
              }
            });
    datasheet
        .parts()
        .forEach(
            (name, part) -> {
              if (part instanceof DatasheetPart.Resistor r
                  && r.network().isPresent()
                  && (r.trackingTolerance().isEmpty() || r.trackingTempcoPerK().isEmpty())) {
                notes.add(
                    "resistor "
                        + name
                        + " shares a network but states no tracking figure; its ratios are taken"
                        + " to be no better than its own tolerance");
              }
            });
    return notes;
  }

  /** The stage that converts the reference voltage is no part of the design. */
  private static Optional<String> otherVoltage(Datasheet datasheet, String range, MadeFrom made) {
    double setV = datasheet.setVoltageV(made).orElseThrow();
    return datasheet
        .suppliedV(made)
        .filter(own -> Math.abs(setV / own - 1) > SAME_VOLTAGE)
        .map(
            own ->
                "range %s: %s are set from %s of the reference%s; what divides or amplifies that is not among the parts and is taken as exact"
                    .formatted(
                        range,
                        QuantityText.print(setV, Dimension.VOLTAGE),
                        QuantityText.print(own, Dimension.VOLTAGE),
                        made.firstStage().isPresent() ? " and its first stage" : ""));
  }

  private Optional<RangeDesign> range(Datasheet.Range range) {
    return range.madeFrom().map(made -> range(range, made));
  }

  private RangeDesign range(Datasheet.Range range, MadeFrom made) {
    return new RangeDesign(
        range.name(),
        range.nominalA(),
        range.referenceLoadOhm().orElse(0.0),
        datasheet.setVoltageV(made).orElseThrow(),
        reference(made.reference()),
        resistor(made.resistor()),
        made.amplifier().map(this::amplifier),
        made.passDevice().map(this::passDevice),
        made.series().stream().map(this::seriesDrop).toList(),
        made.leakage().map(this::leakage),
        made.supply().map(this::supply),
        made.firstStage().map(s -> firstStage(made, s)),
        made.taps().stream().map(this::resistor).toList());
  }

  private DesignPart.FirstStage firstStage(MadeFrom made, Datasheet.FirstStage stage) {
    return new DesignPart.FirstStage(
        "first stage",
        datasheet.referenceV(made).orElseThrow(),
        resistor(stage.resistor()),
        stage.top().stream().map(this::resistor).toList(),
        stage.amplifier().map(this::amplifier));
  }

  private <P extends DatasheetPart> P part(String name, Class<P> kind) {
    DatasheetPart part = datasheet.parts().get(name);
    if (!kind.isInstance(part)) {
      throw new IllegalArgumentException(
          "part '%s' is %s, expected a %s".formatted(name, part, kind.getSimpleName()));
    }
    return kind.cast(part);
  }

  private DesignPart.Reference reference(String name) {
    DatasheetPart.Reference part = part(name, DatasheetPart.Reference.class);
    return new DesignPart.Reference(
        name, part.tolerance(), part.tempcoPerK(), part.curvaturePerK2());
  }

  /** Without a tracking figure a ratio is no better than the resistors themselves. */
  private DesignPart.Resistor resistor(String name) {
    DatasheetPart.Resistor part = part(name, DatasheetPart.Resistor.class);
    Optional<DesignPart.Network> network =
        part.network()
            .map(
                n ->
                    new DesignPart.Network(
                        n,
                        part.trackingTolerance().orElse(2 * part.tolerance()),
                        part.trackingTempcoPerK().orElse(2 * part.tempcoPerK())));
    return new DesignPart.Resistor(
        name, part.valueOhm(), part.tolerance(), part.tempcoPerK(), part.curvaturePerK2(), network);
  }

  private DesignPart.Amplifier amplifier(String name) {
    DatasheetPart.Amplifier part = part(name, DatasheetPart.Amplifier.class);
    return new DesignPart.Amplifier(
        name, part.offsetV(), part.driftVPerK(), part.biasA(), part.gain());
  }

  private DesignPart.PassDevice passDevice(String name) {
    DatasheetPart.PassDevice part = part(name, DatasheetPart.PassDevice.class);
    return new DesignPart.PassDevice(name, part.beta(), part.gateLeakageA());
  }

  private DesignPart.SeriesDrop seriesDrop(String name) {
    return new DesignPart.SeriesDrop(name, part(name, DatasheetPart.SeriesDrop.class).voltageV());
  }

  private DesignPart.Leakage leakage(String name) {
    DatasheetPart.Leakage part = part(name, DatasheetPart.Leakage.class);
    return new DesignPart.Leakage(name, part.resistanceOhm(), part.doublesEveryK());
  }

  private DesignPart.Supply supply(String name) {
    return new DesignPart.Supply(name, part(name, DatasheetPart.Supply.class).voltageV());
  }
}
