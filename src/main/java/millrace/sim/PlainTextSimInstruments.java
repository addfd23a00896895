// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.util.Optional;
import millrace.quantity.NumberText;
import millrace.sim.fault.SimFault;
import millrace.sim.truth.SimulatedClimate;
import millrace.sim.truth.SimulatedUnitSpec;

/** The instruments of the bench that speak plain text. */
final class PlainTextSimInstruments {
  private static final double LOAD_SWITCHING_S = 0.05;
  private static final double SELECTING_S = 0.01;
  private static final double SENSING_S = 0.05;
  private static final double HIGHEST_OHM = 1e9;

  private PlainTextSimInstruments() {}

  /** A decade load whose decades each have an error. */
  static PlainTextDialect load(SimulatedLoop circuit) {
    double[] set = {0};
    PlainTextDialect load =
        new PlainTextDialect(
            "DL-7",
            () -> {
              set[0] = 0;
              circuit.shorted(false);
              circuit.load(circuit.truth().load().actualOhm(0));
            });
    load.takesNumber(
        "R",
        0,
        HIGHEST_OHM,
        ohm -> {
          circuit.busy(LOAD_SWITCHING_S);
          set[0] = ohm;
          circuit.load(circuit.truth().load().actualOhm(ohm));
        });
    load.asks("R", () -> NumberText.print(set[0]));
    load.takesFlag(
        "SHORT",
        on -> {
          circuit.busy(LOAD_SWITCHING_S);
          circuit.shorted(on);
        });
    load.asks("SHORT", () -> circuit.shorted() ? "ON" : "OFF");
    return load;
  }

  /** A chamber with control by its own thermometer. */
  static PlainTextDialect chamber(SimulatedLoop circuit) {
    PlainTextDialect chamber =
        new PlainTextDialect(
            "TC-40",
            () -> {
              circuit.climate().setpoint(SimulatedUnitSpec.REFERENCE_DEGC);
              circuit.climate().ramp(Double.POSITIVE_INFINITY);
            });
    chamber.takesNumber("SET", -60, 150, degC -> circuit.climate().setpoint(degC));
    chamber.asks("SET", () -> NumberText.print(circuit.climate().setpoint()));
    chamber.takesNumber("RAMP", 0.01, 20, perMin -> circuit.climate().ramp(perMin / 60));
    chamber.asks("TEMP", () -> NumberText.fixed(shown(circuit), 2));
    chamber.asks("DOOR", () -> circuit.climate().doorOpen() ? "OPEN" : "CLOSED");
    chamber.asks("ALARM", () -> circuit.climate().alarm() ? "PROTECTION TRIPPED" : "NONE");
    return chamber;
  }

  private static double shown(SimulatedLoop circuit) {
    return circuit.climate().shownDegC() + 0.01 * circuit.gaussian();
  }

  /** A thermometer at each unit; without a position it reads that of the connected unit. */
  static PlainTextDialect thermometer(SimulatedLoop circuit, Sensor sensor) {
    return new PlainTextDialect("PT-2", () -> {})
        .asksOf(
            "TEMP",
            argument -> {
              String position = argument.isEmpty() ? circuit.position() : argument;
              if (!circuit.hasUnit(position)) {
                return "ERR no such position";
              }
              circuit.busy(SENSING_S);
              SimulatedClimate climate = circuit.climate();
              double degC =
                  circuit.isWrong(SimFault.Kind.THERMOMETER_ASIDE)
                      ? climate.room().degC(circuit.nowS())
                      : climate.unitDegC(position);
              double noise = 0.002 * circuit.gaussian();
              double error = circuit.truth().unitThermometerK() + sensor.addedK;
              return NumberText.fixed(degC + error + noise, 3) + " C";
            });
  }

  /** The faults of a thermometer. Guarded by the circuit's lock. */
  static final class Sensor {
    private double addedK;

    void add(double kelvin) {
      addedK = kelvin;
    }
  }

  /** A thermometer and hygrometer in the room. */
  static PlainTextDialect room(SimulatedLoop circuit) {
    return new PlainTextDialect("RM-1", () -> {})
        .asks(
            "TEMP",
            () -> {
              double noise = 0.01 * circuit.gaussian();
              return NumberText.fixed(circuit.climate().room().degC(circuit.nowS()) + noise, 2);
            })
        .asks(
            "HUM",
            () -> NumberText.fixed(100 * circuit.climate().room().humidity(circuit.nowS()), 1));
  }

  /** Selects the range of the unit and switches the source. */
  static PlainTextDialect selector(SimulatedLoop circuit) {
    String[] selected = {""};
    PlainTextDialect selector =
        new PlainTextDialect(
            "RS-5",
            () -> {
              circuit.source(false);
              circuit.range(null);
              selected[0] = "";
            });
    selector.takes(
        "RANGE",
        name -> {
          if (!circuit.knows(name)) {
            return Optional.of("no such range");
          }
          circuit.busy(SELECTING_S);
          circuit.range(name);
          selected[0] = name;
          return Optional.empty();
        });
    selector.asks("RANGE", () -> selected[0]);
    selector.takesFlag(
        "SOURCE",
        on -> {
          circuit.busy(SELECTING_S);
          circuit.source(on);
        });
    selector.asks("SOURCE", () -> circuit.sourceOn() ? "ON" : "OFF");
    return selector;
  }
}
