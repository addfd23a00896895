// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetLimit;
import millrace.datasheet.DatasheetPart;
import millrace.evidence.ResultQuantity;
import millrace.quantity.TimeSpanSeconds;
import millrace.sim.truth.SimulatedPartSpec;
import millrace.sim.truth.SimulatedUnitSpec;

/**
 * Derives a kind of simulated unit from a datasheet. Parts come from the datasheet; what it does
 * not state is chosen so that a good unit stays inside its limits.
 */
public final class SimulatedUnitFromDatasheet {
  private static final double REFERENCE_SHARE = 0.35;
  private static final double RESISTOR_SHARE = 0.4;
  private static final double USUAL_LIMIT = 100e-6;
  private static final double USUAL_TEMPCO_LIMIT = 5e-6;
  private static final double USUAL_SET_V = 2.5;
  private static final double USUAL_COMPLIANCE_V = 10;
  private static final double USUAL_LAG_S = 480;
  private static final double DROP_V = 0.7;
  private static final double KNEE_V = 1.2;
  private static final double EARLY_V = 10;
  private static final double SUPPLY_PER_V = 0.4e-6;
  private static final double SOFTNESS_V = 0.12;
  private static final SimulatedUnitSpec.Noise NOISE = new SimulatedUnitSpec.Noise(0.4e-6, 0.15e-6);

  private final Datasheet sheet;

  private SimulatedUnitFromDatasheet(Datasheet sheet) {
    this.sheet = sheet;
  }

  /** The kind of unit that a datasheet describes. */
  public static SimulatedUnitSpec of(Datasheet sheet) {
    SimulatedUnitFromDatasheet units = new SimulatedUnitFromDatasheet(sheet);
    double lagS = sheet.thermalTimeConstant().map(TimeSpanSeconds::seconds).orElse(USUAL_LAG_S);
    return new SimulatedUnitSpec(
        sheet.ranges().values().stream().map(units::range).toList(),
        new SimulatedUnitSpec.Warmth(-6e-6, 900, lagS),
        NOISE,
        SOFTNESS_V,
        SUPPLY_PER_V,
        List.of());
  }

  private SimulatedUnitSpec.Range range(Datasheet.Range r) {
    Optional<Datasheet.MadeFrom> made = r.madeFrom();
    double setV = made.flatMap(sheet::setVoltageV).orElse(USUAL_SET_V);
    List<SimulatedPartSpec.Drop> drops = drops(made);
    double dropV = drops.stream().mapToDouble(SimulatedPartSpec.Drop::volts).sum();
    return new SimulatedUnitSpec.Range(
        r.name(),
        Math.abs(r.nominalA()),
        setV,
        reference(r, made),
        resistor(r, made, setV),
        amplifier(made),
        pass(made),
        drops,
        leakage(r, made),
        supply(r, made, setV + dropV));
  }

  private <P extends DatasheetPart> Optional<P> part(Optional<String> name, Class<P> kind) {
    return name.map(sheet.parts()::get).filter(kind::isInstance).map(kind::cast);
  }

  private SimulatedPartSpec.Reference reference(
      Datasheet.Range r, Optional<Datasheet.MadeFrom> made) {
    Optional<String> name = made.map(Datasheet.MadeFrom::reference);
    return part(name, DatasheetPart.Reference.class)
        .map(
            p -> new SimulatedPartSpec.Reference(name.orElseThrow(), p.tolerance(), p.tempcoPerK()))
        .orElseGet(
            () ->
                new SimulatedPartSpec.Reference(
                    "reference",
                    REFERENCE_SHARE * limit(r, ResultQuantity.CURRENT_ERROR, USUAL_LIMIT),
                    REFERENCE_SHARE * limit(r, ResultQuantity.TEMPCO, USUAL_TEMPCO_LIMIT)));
  }

  private SimulatedPartSpec.Resistor resistor(
      Datasheet.Range r, Optional<Datasheet.MadeFrom> made, double setV) {
    Optional<String> name = made.map(Datasheet.MadeFrom::resistor);
    return part(name, DatasheetPart.Resistor.class)
        .map(p -> resistor(name.orElseThrow(), p))
        .orElseGet(
            () ->
                new SimulatedPartSpec.Resistor(
                    "resistor of " + r.name(),
                    setV / Math.abs(r.nominalA()),
                    RESISTOR_SHARE * limit(r, ResultQuantity.CURRENT_ERROR, USUAL_LIMIT),
                    RESISTOR_SHARE * limit(r, ResultQuantity.TEMPCO, USUAL_TEMPCO_LIMIT),
                    Optional.empty()));
  }

  private static SimulatedPartSpec.Resistor resistor(String name, DatasheetPart.Resistor p) {
    Optional<SimulatedPartSpec.Network> network =
        p.network()
            .map(
                n ->
                    new SimulatedPartSpec.Network(
                        n,
                        p.trackingTolerance().orElse(p.tolerance()),
                        p.trackingTempcoPerK().orElse(p.tempcoPerK())));
    return new SimulatedPartSpec.Resistor(
        name, p.valueOhm(), p.tolerance(), p.tempcoPerK(), network);
  }

  /** The narrowest limit that the datasheet puts on a relative quantity of a range, a ratio. */
  private double limit(Datasheet.Range r, ResultQuantity quantity, double usual) {
    return sheet.limits().stream()
        .filter(l -> l.quantity() == quantity && l.isFor(Optional.of(r.name())))
        .map(l -> narrowest(l, r.nominalA()))
        .flatMapToDouble(OptionalDouble::stream)
        .map(ppm -> ppm * 1e-6)
        .min()
        .orElse(usual);
  }

  private static OptionalDouble narrowest(DatasheetLimit stated, double nominalA) {
    var limit = stated.limit(nominalA);
    return Stream.of(limit.lower(), limit.upper())
        .flatMapToDouble(OptionalDouble::stream)
        .map(Math::abs)
        .min();
  }

  private SimulatedPartSpec.Amplifier amplifier(Optional<Datasheet.MadeFrom> made) {
    Optional<String> name = made.flatMap(Datasheet.MadeFrom::amplifier);
    return part(name, DatasheetPart.Amplifier.class)
        .map(
            p ->
                new SimulatedPartSpec.Amplifier(
                    name.orElseThrow(), p.offsetV(), p.driftVPerK(), p.biasA(), p.gain()))
        .orElseGet(() -> new SimulatedPartSpec.Amplifier("amplifier", 10e-6, 0.1e-6, 5e-15, 1e6));
  }

  private SimulatedPartSpec.PassDevice pass(Optional<Datasheet.MadeFrom> made) {
    Optional<String> name = made.flatMap(Datasheet.MadeFrom::passDevice);
    return part(name, DatasheetPart.PassDevice.class)
        .map(
            p ->
                new SimulatedPartSpec.PassDevice(
                    name.orElseThrow(), p.beta(), p.gateLeakageA(), EARLY_V))
        .orElseGet(
            () -> new SimulatedPartSpec.PassDevice("pass device", Optional.empty(), 0, EARLY_V));
  }

  private List<SimulatedPartSpec.Drop> drops(Optional<Datasheet.MadeFrom> made) {
    List<SimulatedPartSpec.Drop> drops = new ArrayList<>();
    for (String name : made.map(Datasheet.MadeFrom::series).orElse(List.of())) {
      part(Optional.of(name), DatasheetPart.SeriesDrop.class)
          .ifPresent(p -> drops.add(new SimulatedPartSpec.Drop(name, p.voltageV())));
    }
    return made.isPresent() ? drops : List.of(new SimulatedPartSpec.Drop("drop", DROP_V));
  }

  /** Without a stated value, small enough to stay far inside the limits of the smallest range. */
  private SimulatedPartSpec.Leakage leakage(Datasheet.Range r, Optional<Datasheet.MadeFrom> made) {
    Optional<String> name = made.flatMap(Datasheet.MadeFrom::leakage);
    return part(name, DatasheetPart.Leakage.class)
        .map(
            p ->
                new SimulatedPartSpec.Leakage(
                    name.orElseThrow(), p.resistanceOhm(), p.doublesEveryK()))
        .orElseGet(
            () -> {
              double leastA = least(sheet.ranges());
              double share = 0.02 * limit(r, ResultQuantity.CURRENT_ERROR, USUAL_LIMIT);
              return new SimulatedPartSpec.Leakage(
                  "leakage", USUAL_COMPLIANCE_V / (leastA * share), 10);
            });
  }

  private static double least(Map<String, Datasheet.Range> ranges) {
    return ranges.values().stream().mapToDouble(r -> Math.abs(r.nominalA())).min().orElseThrow();
  }

  /**
   * Without a stated one it is inside the unit, and enough for the promised compliance and
   * open-circuit voltage.
   */
  private SimulatedPartSpec.Supply supply(
      Datasheet.Range r, Optional<Datasheet.MadeFrom> made, double takenV) {
    Optional<String> name = made.flatMap(Datasheet.MadeFrom::supply);
    return part(name, DatasheetPart.Supply.class)
        .map(p -> new SimulatedPartSpec.Supply(name.orElseThrow(), p.voltageV(), false))
        .orElseGet(
            () -> {
              double promisedV = sheet.complianceVoltageV(r.name()).orElse(USUAL_COMPLIANCE_V);
              double openV = sheet.openCircuitVoltageV().orElse(0.0);
              return new SimulatedPartSpec.Supply(
                  "supply", takenV + Math.max(promisedV + KNEE_V, openV), true);
            });
  }
}
