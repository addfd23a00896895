// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

/** Connects units and standards, or nothing, to the meters. */
public interface Switch {
  /**
   * Connects one position.
   *
   * @param position the name that the bench file gives it
   * @throws millrace.fault.InstrumentException if the switch refuses or does not answer
   */
  void connect(String position);

  /**
   * Opens both leads, so that no current flows in the meter.
   *
   * @throws millrace.fault.InstrumentException if the switch refuses or does not answer
   */
  void disconnect();
}
