package millrace.fault;

import java.io.Serial;

/**
 * An instrument or its link failed: what was asked, what came back, how long was waited and which
 * attempt it was stand in the message.
 */
public final class InstrumentException extends MillraceException {
  @Serial private static final long serialVersionUID = 1L;

  /**
   * An error of this kind.
   *
   * @param message whole sentences for the person at the bench
   */
  public InstrumentException(String message) {
    super(message);
  }

  /**
   * An error of this kind with what caused it.
   *
   * @param message whole sentences for the person at the bench
   * @param cause what a library threw
   */
  public InstrumentException(String message, Throwable cause) {
    super(message, cause);
  }
}
