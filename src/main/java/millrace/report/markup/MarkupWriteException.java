// SPDX-License-Identifier: Apache-2.0
package millrace.report.markup;

import java.io.IOException;
import java.io.Serial;

/** What is written to could not be written; the cause says why. Caught where the file is known. */
public final class MarkupWriteException extends RuntimeException {
  @Serial private static final long serialVersionUID = 1L;

  MarkupWriteException(Exception cause) {
    super("the markup cannot be written", cause);
  }

  /**
   * What went wrong below.
   *
   * @return the trouble of the writer that was written to
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
