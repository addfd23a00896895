// SPDX-License-Identifier: Apache-2.0
package millrace.fault;

import java.io.Serial;

/** A person or the system stopped the run by a signal; the bench was put in its safe state. */
public final class StoppedException extends MillraceException {
  @Serial private static final long serialVersionUID = 1L;

  /** The signals that stop a run, with the number that POSIX gives them. */
  public enum Signal {
    /** The terminal hung up. */
    HUP(1),
    /** Ctrl-C. */
    INT(2),
    /** A polite kill. */
    TERM(15);

    private final int number;

    Signal(int number) {
      this.number = number;
    }

    /**
     * The signal's POSIX number.
     *
     * @return 1, 2 or 15
     */
    public int number() {
      return number;
    }
  }

  private final Signal signal;

  /**
   * A stop by signal.
   *
   * @param signal which signal came
   * @param message whole sentences: where the run stands and how to go on
   */
  public StoppedException(Signal signal, String message) {
    super(message);
    this.signal = signal;
  }

  /**
   * Which signal came.
   *
   * @return the signal
   */
  public Signal signal() {
    return signal;
  }
}
