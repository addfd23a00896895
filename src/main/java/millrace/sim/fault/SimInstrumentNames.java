// SPDX-License-Identifier: Apache-2.0
package millrace.sim.fault;

import java.util.List;

/** The instruments of a simulated bench. */
public final class SimInstrumentNames {
  /** Their names, in the order in which fixed ports are given to them. */
  public static final List<String> NAMES =
      List.of(
          "ammeter",
          "voltmeter",
          "load",
          "chamber",
          "thermometer",
          "room",
          "selector",
          "supply",
          "switch");

  private SimInstrumentNames() {}
}
