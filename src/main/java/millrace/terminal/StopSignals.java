// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import java.util.LinkedHashMap;
import java.util.Map;
import millrace.fault.StoppedException.Signal;
import millrace.run.control.StopRequest;

/** Converts signals of the operating system into stop requests while it is open. */
public final class StopSignals implements AutoCloseable {
  private final Map<Signal, Object> before = new LinkedHashMap<>();

  private StopSignals() {}

  /**
   * Starts to catch signals.
   *
   * @param stop receives the stop request
   * @param unattended true if a hang-up must not end the run
   * @param console shows the answer to a second signal
   */
  public static StopSignals into(StopRequest stop, boolean unattended, Console console) {
    StopSignals signals = new StopSignals();
    for (Signal signal : Signal.values()) {
      boolean survives = unattended && signal == Signal.HUP;
      signals.listen(signal, () -> came(signal, stop, survives, console));
    }
    return signals;
  }

  /** Notes that signals are caught from here on. */
  public boolean listening() {
    return !before.isEmpty();
  }

  /** Ignores all signals; the caller ends when the process that it waits for has ended. */
  public static void ignored() {
    for (Signal signal : Signal.values()) {
      org.jline.utils.Signals.register(signal.name(), () -> {});
    }
  }

  private void listen(Signal signal, Runnable handler) {
    Object previous = org.jline.utils.Signals.register(signal.name(), handler);
    if (previous != null) {
      before.put(signal, previous);
    }
  }

  private static void came(Signal signal, StopRequest stop, boolean survives, Console console) {
    if (survives) {
      return;
    }
    boolean again = stop.asked().isPresent();
    if (console.interactive()) {
      // Ends the line of a question or of the progress first.
      console.error("");
    }
    stop.stop(signal);
    console.error(
        again
            ? "millrace: the bench is being put in its safe state; this takes a few seconds."
            : "millrace: stopping; the bench goes to its safe state first.");
  }

  @Override
  public void close() {
    before.forEach((signal, handler) -> org.jline.utils.Signals.unregister(signal.name(), handler));
  }
}
