// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.io.Serial;
import millrace.fault.Fault;
import millrace.fault.Place;

/**
 * Thrown by what makes a value of a form when it refuses what was read and knows the exact place;
 * any other {@link IllegalArgumentException} is reported at the place of the whole value.
 */
public final class Refusal extends IllegalArgumentException {
  @Serial private static final long serialVersionUID = 1L;

  private final transient Fault fault;

  /**
   * Makes a refusal.
   *
   * @param fault what is wrong, and where
   */
  public Refusal(Fault fault) {
    super(fault.toString());
    this.fault = fault;
  }

  /** The fault as it was given, or at the place of the whole value for any other exception. */
  static Fault of(IllegalArgumentException e, Place whole) {
    return e instanceof Refusal refusal
        ? refusal.fault
        : Fault.of(whole, String.valueOf(e.getMessage()), "");
  }
}
