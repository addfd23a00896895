// SPDX-License-Identifier: Apache-2.0
package millrace.fault;

import java.io.Serial;

/** An interlock stopped the run: the message names the condition, the value and its bound. */
public non-sealed class InterlockException extends MillraceException {
  @Serial private static final long serialVersionUID = 1L;

  /**
   * An error of this kind.
   *
   * @param message whole sentences for the person at the bench
   */
  public InterlockException(String message) {
    super(message);
  }
}
