// SPDX-License-Identifier: Apache-2.0
package millrace.quantity;

import java.io.Serial;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;

/** A text is not the quantity that was asked for. */
public final class QuantityException extends IllegalArgumentException {
  @Serial private static final long serialVersionUID = 1L;

  private final int column;
  private final String found;
  private final String expected;
  private final String remedy;

  QuantityException(int column, String found, String expected, String remedy) {
    super(
        "column %s: %s; expected %s.%s"
            .formatted(column, found, expected, remedy.isEmpty() ? "" : " " + remedy));
    this.column = column;
    this.found = found;
    this.expected = expected;
    this.remedy = remedy;
  }

  /**
   * The same as a fault of the file that contains the text.
   *
   * @param start the place of the text's first character
   * @return the fault, at the column that is wrong
   */
  public InputFault at(FilePlace start) {
    FilePlace place =
        start.column() == 0
            ? start
            : new FilePlace(start.file(), start.line(), start.column() + column - 1);
    return new InputFault(place, found, expected, remedy);
  }
}
