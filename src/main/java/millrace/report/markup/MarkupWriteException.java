// SPDX-License-Identifier: Apache-2.0
package millrace.report.markup;

import java.io.IOException;
import java.io.Serial;

/**
 * The output could not be written; the cause gives the reason. The caller that knows the file
 * catches it.
 */
public final class MarkupWriteException extends RuntimeException {
  @Serial private static final long serialVersionUID = 1L;

  MarkupWriteException(Exception cause) {
    super("the markup cannot be written", cause);
  }

  /**
   * The underlying error.
   *
   * @return the exception of the output writer
   */
  public IOException ioCause() {
    for (Throwable t = getCause(); t != null; t = t.getCause()) {
      if (t instanceof IOException io) {
        return io;
      }
    }
    return new IOException(String.valueOf(getCause()), getCause());
  }
}
