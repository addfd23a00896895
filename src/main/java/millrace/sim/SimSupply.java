package millrace.sim;

import java.util.Locale;
import java.util.Optional;

/** An SCPI-1999 supply that feeds the units. */
final class SimSupply implements Talker {
  private static final double HIGHEST_V = 60;

  private final Circuit circuit;
  private final Scpi scpi;
  private double volts;
  private boolean on;

  SimSupply(Circuit circuit) {
    this.circuit = circuit;
    scpi = new Scpi("FENNICK,PS-1,SIMULATED,Millrace simulated bench", () -> set(0, false));
    scpi.onNumber(
        "[SOURce:]VOLTage[:LEVel]",
        v -> {
          if (v < 0 || v > HIGHEST_V) {
            scpi.error(-222, "Data out of range");
          } else {
            set(v, on);
          }
        });
    scpi.on("[SOURce:]VOLTage[:LEVel]?", a -> Optional.of(Scpi.number(volts)));
    scpi.on("OUTPut[:STATe]", this::output);
    scpi.on("OUTPut[:STATe]?", a -> Optional.of(on ? "1" : "0"));
    scpi.on("MEASure:VOLTage?", a -> Optional.of(Scpi.number(circuit.supplyV())));
    scpi.on("MEASure:CURRent?", a -> Optional.of(Scpi.number(current())));
  }

  private double current() {
    circuit.busy(0.02);
    return circuit.supplyOn() ? 4e-3 + circuit.solve().meterA() : 0;
  }

  private Optional<String> output(String argument) {
    switch (argument.toUpperCase(Locale.ROOT)) {
      case "ON", "1" -> set(volts, true);
      case "OFF", "0" -> set(volts, false);
      default -> scpi.error(-104, "Data type error");
    }
    return Optional.empty();
  }

  private void set(double toV, boolean toOn) {
    volts = toV;
    on = toOn;
    circuit.supply(volts, on);
  }

  @Override
  public Optional<String> hear(String line) {
    synchronized (circuit.lock()) {
      return scpi.hear(line);
    }
  }
}
