// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.io.Serial;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;

/**
 * Thrown by the conversion of a form's value for a fault with a known exact place; any other {@link
 * IllegalArgumentException} is reported at the place of the whole value.
 */
public final class FormRefusalException extends IllegalArgumentException {
  @Serial private static final long serialVersionUID = 1L;

  private final transient InputFault fault;

  /**
   * Makes a refusal.
   *
   * @param fault what is wrong, and where
   */
  public FormRefusalException(InputFault fault) {
    super(fault.toString());
    this.fault = fault;
  }

  /** The fault as it was given, or at the place of the whole value for any other exception. */
  static InputFault of(IllegalArgumentException e, FilePlace whole) {
    return e instanceof FormRefusalException refusal
        ? refusal.fault
        : InputFault.of(whole, String.valueOf(e.getMessage()), "");
  }
}
