// SPDX-License-Identifier: Apache-2.0
package millrace.fault;

import java.io.Serial;

/** The input holds no data for any computation. */
public final class NotAnalysableException extends MillraceException {
  @Serial private static final long serialVersionUID = 1L;

  /**
   * An error of this kind.
   *
   * @param message whole sentences for the person at the bench
   */
  public NotAnalysableException(String message) {
    super(message);
  }
}
