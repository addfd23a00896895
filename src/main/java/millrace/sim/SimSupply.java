// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.util.Optional;

/** An SCPI-1999 supply that feeds the units. */
final class SimSupply implements SimLineResponder {
  private static final double HIGHEST_V = 60;
  private static final double HIGHEST_A = 3;
  private static final double QUIESCENT_A = 4e-3;
  private static final double READING_S = 0.02;

  private final SimulatedLoop circuit;
  private final ScpiInterpreter scpi;
  private double volts;
  private double limitA = HIGHEST_A;
  private boolean on;

  SimSupply(SimulatedLoop circuit) {
    this.circuit = circuit;
    scpi = new ScpiInterpreter(SimMeter.identity("PS"), this::reset);
    scpi.takes("[SOURce:]VOLTage[:LEVel]", 0, HIGHEST_V, v -> set(v, on));
    scpi.asks("[SOURce:]VOLTage[:LEVel]?", () -> ScpiInterpreter.number(volts));
    scpi.takes("[SOURce:]CURRent[:LEVel]", 0, HIGHEST_A, a -> limitA = a);
    scpi.asks("[SOURce:]CURRent[:LEVel]?", () -> ScpiInterpreter.number(limitA));
    scpi.takesFlag("OUTPut[:STATe]", o -> set(volts, o));
    scpi.asks("OUTPut[:STATe]?", () -> on ? "1" : "0");
    scpi.asks("MEASure:VOLTage?", () -> ScpiInterpreter.number(circuit.supplyV()));
    scpi.asks("MEASure:CURRent?", () -> ScpiInterpreter.number(current()));
  }

  private double current() {
    circuit.busy(READING_S);
    return circuit.supplyOn() ? QUIESCENT_A + circuit.solve(READING_S).meterA() : 0;
  }

  private void reset() {
    limitA = HIGHEST_A;
    set(0, false);
  }

  private void set(double toV, boolean toOn) {
    volts = toV;
    on = toOn;
    circuit.supply(volts, on);
  }

  @Override
  public Optional<String> hear(String line) {
    return scpi.hear(line);
  }

  @Override
  public void powerOn() {
    reset();
    scpi.powerOn();
  }

  @Override
  public void complain() {
    scpi.fillQueue();
  }
}
