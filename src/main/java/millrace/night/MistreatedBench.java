// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import millrace.terminal.Console;

/** Reports forbidden states of a simulated bench: events that must never happen on a real one. */
public final class MistreatedBench {
  private MistreatedBench() {}

  /**
   * Prints each event.
   *
   * @param simulation the bench
   * @param console prints them
   */
  public static void tell(SimulatedBenchSession simulation, Console console) {
    simulation
        .mistreatments()
        .forEach(m -> console.error("CAUTION: the simulated bench was mistreated: " + m));
  }
}
