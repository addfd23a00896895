package millrace.sim;

import java.util.Optional;

/**
 * An SCPI-1999 switch that connects one unit, the check standard or nothing to the loop; the others
 * stay shorted. At power-on the first unit is connected.
 */
final class SimSwitch implements Talker {
  private static final double SWITCHING_S = 0.02;

  private final Circuit circuit;
  private final Scpi scpi;
  private final String first;
  private String closed;

  SimSwitch(Circuit circuit) {
    this.circuit = circuit;
    first = circuit.position();
    closed = first;
    scpi = new Scpi(SimMeter.identity("SW"), this::open);
    scpi.on("ROUTe:CLOSe", this::close);
    scpi.does("ROUTe:OPEN:ALL", this::opened);
    scpi.asks("ROUTe:CLOSe:STATe?", () -> "(@" + closed + ")");
  }

  private Optional<String> close(String list) {
    if (!list.startsWith("(@") || !list.endsWith(")")) {
      return scpi.refused(-104, "Data type error");
    }
    String position = list.substring(2, list.length() - 1).strip();
    if (!circuit.hasUnit(position) && !position.equals(CheckStandard.POSITION)) {
      return scpi.refused(-222, "Data out of range");
    }
    circuit.busy(SWITCHING_S);
    circuit.connect(position);
    closed = position;
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
    circuit.connect(first);
    closed = first;
    scpi.powerOn();
  }

  @Override
  public void complain() {
    scpi.fillQueue();
  }
}
