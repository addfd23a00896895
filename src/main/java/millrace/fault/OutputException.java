// SPDX-License-Identifier: Apache-2.0
package millrace.fault;

import java.io.Serial;

/** The requested output cannot be written completely: a full disk, a device that takes nothing. */
public final class OutputException extends MillraceException {
  @Serial private static final long serialVersionUID = 1L;

  /**
   * An error of this kind.
   *
   * @param message whole sentences for the person at the bench
   */
  public OutputException(String message) {
    super(message);
  }

  /**
   * An error of this kind with what caused it.
   *
   * @param message whole sentences for the person at the bench
   * @param cause what a library threw
   */
  public OutputException(String message, Throwable cause) {
    super(message, cause);
  }
}
