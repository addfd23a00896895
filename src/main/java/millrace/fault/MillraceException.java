// SPDX-License-Identifier: Apache-2.0
package millrace.fault;

import java.io.Serial;

/**
 * Root of all errors that Millrace reports to a person: the message is whole sentences that say
 * where, what was found, what was expected and what to do.
 */
public abstract sealed class MillraceException extends RuntimeException
    permits BadInputException,
        InstrumentException,
        InterlockException,
        LogbookException,
        NotAnalysableException,
        OutputException,
        StoppedException,
        TrialLapFailedException,
        UnsafeBenchException {
  @Serial private static final long serialVersionUID = 1L;

  /**
   * An error with its message.
   *
   * @param message whole sentences for the person at the bench
   */
  protected MillraceException(String message) {
    super(message);
  }

  /**
   * An error with its message and what caused it.
   *
   * @param message whole sentences for the person at the bench
   * @param cause what a library threw
   */
  protected MillraceException(String message, Throwable cause) {
    super(message, cause);
  }
}
