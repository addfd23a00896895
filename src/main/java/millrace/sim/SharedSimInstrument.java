// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.util.Optional;

/**
 * An instrument on the bench: takes one line at a time from any number of clients, with the
 * circuit's lock held.
 */
final class SharedSimInstrument implements SimLineResponder {
  private final SimulatedLoop circuit;
  private final SimLineResponder instrument;

  SharedSimInstrument(SimulatedLoop circuit, SimLineResponder instrument) {
    this.circuit = circuit;
    this.instrument = instrument;
  }

  @Override
  public synchronized Optional<String> hear(String line) {
    circuit.lock().lock();
    try {
      return instrument.hear(line);
    } finally {
      circuit.lock().unlock();
    }
  }

  @Override
  public synchronized void powerOn() {
    circuit.lock().lock();
    try {
      circuit.watch().muted(instrument::powerOn);
    } finally {
      circuit.lock().unlock();
    }
  }

  @Override
  public synchronized void complain() {
    circuit.lock().lock();
    try {
      instrument.complain();
    } finally {
      circuit.lock().unlock();
    }
  }
}
