// SPDX-License-Identifier: Apache-2.0
package millrace.fault;

import java.io.Serial;

/**
 * The trial lap stopped a unit before the chamber was moved for it: the message names the range and
 * the fault. No bound was breached, so this is distinct from an interlock.
 */
public final class TrialLapFailedException extends MillraceException {
  @Serial private static final long serialVersionUID = 1L;

  /**
   * An error of this kind.
   *
   * @param message whole sentences for the person at the bench
   */
  public TrialLapFailedException(String message) {
    super(message);
  }
}
