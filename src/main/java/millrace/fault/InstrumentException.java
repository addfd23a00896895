// SPDX-License-Identifier: Apache-2.0
package millrace.fault;

import java.io.Serial;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * An instrument or its link failed: the message states the command, the reply, the time waited and
 * the attempt.
 */
public final class InstrumentException extends MillraceException {
  @Serial private static final long serialVersionUID = 1L;

  private final transient @Nullable InstrumentTrouble trouble;

  /**
   * An error of this kind.
   *
   * @param message whole sentences for the person at the bench
   */
  public InstrumentException(String message) {
    super(message);
    this.trouble = null;
  }

  /**
   * An error of this kind with what caused it.
   *
   * @param message whole sentences for the person at the bench
   * @param cause what a library threw
   */
  public InstrumentException(String message, Throwable cause) {
    super(message, cause);
    this.trouble = null;
  }

  /**
   * An error of this kind from its facts.
   *
   * @param trouble what went wrong
   */
  public InstrumentException(InstrumentTrouble trouble) {
    super(trouble.message());
    this.trouble = trouble;
  }

  /**
   * An error of this kind from its facts, with what caused it.
   *
   * @param trouble what went wrong
   * @param cause what a library threw, or the same error with fewer facts
   */
  public InstrumentException(InstrumentTrouble trouble, Throwable cause) {
    super(trouble.message(), cause);
    this.trouble = trouble;
  }

  /**
   * The facts that the message was built from.
   *
   * @return the facts; empty if the message is all there is
   */
  public Optional<InstrumentTrouble> trouble() {
    return Optional.ofNullable(trouble);
  }
}
