// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.util.Optional;
import millrace.sim.truth.SimulatedCheckStandard;

/**
 * An SCPI-1999 switch that connects one unit, the check standard or nothing to the loop, a unit
 * with either polarity; it keeps the others shorted. At power-on the first unit is connected, with
 * normal polarity.
 */
final class SimSwitch implements SimLineResponder {
  private static final double SWITCHING_S = 0.02;

  private final SimulatedLoop circuit;
  private final ScpiInterpreter scpi;
  private final String first;
  private String closed;

  SimSwitch(SimulatedLoop circuit) {
    this.circuit = circuit;
    first = circuit.position();
    closed = first;
    scpi = new ScpiInterpreter(SimMeter.identity("SW"), this::open);
    scpi.on("ROUTe:CLOSe", this::close);
    scpi.does("ROUTe:OPEN:ALL", this::opened);
    scpi.asks("ROUTe:CLOSe:STATe?", () -> "(@" + closed + ")");
    scpi.on("OUTPut:POLarity", this::polarity);
  }

  private Optional<String> close(String list) {
    if (!list.startsWith("(@") || !list.endsWith(")")) {
      return scpi.refused(-104, "Data type error");
    }
    String position = list.substring(2, list.length() - 1).strip();
    if (!circuit.hasUnit(position) && !position.equals(SimulatedCheckStandard.POSITION)) {
      return scpi.refused(-222, "Data out of range");
    }
    circuit.busy(SWITCHING_S);
    circuit.connect(position);
    closed = position;
    return Optional.empty();
  }

  private Optional<String> polarity(String word) {
    boolean inverted = word.equalsIgnoreCase("INV") || word.equalsIgnoreCase("INVERTED");
    boolean normal = word.equalsIgnoreCase("NORM") || word.equalsIgnoreCase("NORMAL");
    if (!inverted && !normal) {
      return scpi.refused(-104, "Data type error");
    }
    circuit.busy(SWITCHING_S);
    circuit.reversed(inverted);
    return Optional.empty();
  }

  private void opened() {
    circuit.busy(SWITCHING_S);
    open();
  }

  private void open() {
    circuit.connect(null);
    closed = "";
  }

  @Override
  public Optional<String> hear(String line) {
    return scpi.hear(line);
  }

  @Override
  public void powerOn() {
    circuit.reversed(false);
    circuit.connect(first);
    closed = first;
    scpi.powerOn();
  }

  @Override
  public void complain() {
    scpi.fillQueue();
  }
}
