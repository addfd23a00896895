// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import millrace.terminal.Console;

/** Reports events on a simulated bench that must never happen on a real one. */
public final class MistreatedBench {
  private MistreatedBench() {}

  /**
   * Prints each of them.
   *
   * @param simulation the bench
   * @param console where it is said
   */
  public static void tell(SimulatedBenchSession simulation, Console console) {
    simulation
        .mistreatments()
        .forEach(m -> console.error("CAUTION: the simulated bench was mistreated: " + m));
  }
}
