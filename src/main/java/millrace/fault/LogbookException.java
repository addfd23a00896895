// SPDX-License-Identifier: Apache-2.0
package millrace.fault;

import java.io.Serial;

/** The logbook cannot be read or written. */
public final class LogbookException extends MillraceException {
  @Serial private static final long serialVersionUID = 1L;

  /**
   * An error of this kind.
   *
   * @param message whole sentences for the person at the bench
   */
  public LogbookException(String message) {
    super(message);
  }

  /**
   * An error of this kind with what caused it.
   *
   * @param message whole sentences for the person at the bench
   * @param cause what a library threw
   */
  public LogbookException(String message, Throwable cause) {
    super(message, cause);
  }
}
