package millrace.sim;

import java.util.Optional;

/** An SCPI-1999 switch that connects one unit, or nothing, to the loop. */
final class SimSwitch implements Talker {
  private static final double SWITCHING_S = 0.02;

  private final Circuit circuit;
  private final Scpi scpi;
  private String closed = "";

  SimSwitch(Circuit circuit) {
    this.circuit = circuit;
    scpi = new Scpi("FENNICK,SW-1,SIMULATED,Millrace simulated bench", this::open);
    scpi.on("ROUTe:CLOSe", this::close);
    scpi.on("ROUTe:OPEN:ALL", a -> opened());
    scpi.on("ROUTe:CLOSe:STATe?", a -> Optional.of("(@" + closed + ")"));
  }

  private Optional<String> close(String list) {
    String position = list.replace("(@", "").replace(")", "").strip();
    if (circuit.hasPosition(position)) {
      circuit.busy(SWITCHING_S);
      circuit.connect(position);
      closed = position;
    } else {
      scpi.error(-222, "Data out of range");
    }
    return Optional.empty();
  }

  private Optional<String> opened() {
    circuit.busy(SWITCHING_S);
    open();
    return Optional.empty();
  }

  private void open() {
    circuit.connect(null);
    closed = "";
  }

  @Override
  public Optional<String> hear(String line) {
    synchronized (circuit.lock()) {
      return scpi.hear(line);
    }
  }
}
