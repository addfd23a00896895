// SPDX-License-Identifier: Apache-2.0
package millrace.fault;

import java.io.Serial;

/**
 * The safe state of the bench could not be confirmed: the message names each instrument that was
 * not reached, and what first went wrong.
 */
public final class UnsafeBenchException extends MillraceException {
  @Serial private static final long serialVersionUID = 1L;

  /**
   * An error of this kind.
   *
   * @param message whole sentences for the person at the bench
   */
  public UnsafeBenchException(String message) {
    super(message);
  }
}
