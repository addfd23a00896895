// SPDX-License-Identifier: Apache-2.0
package millrace.fault;

/**
 * One thing that is wrong with an input, in four parts: where, what was found, what was expected,
 * what to do.
 *
 * <p>Immutable and thread-safe.
 *
 * @param place where it was found
 * @param found what was found there, with the offending value quoted
 * @param expected what was expected instead; may be empty
 * @param remedy what the reader can do, a sentence with its full stop; may be empty
 */
public record InputFault(FilePlace place, String found, String expected, String remedy) {

  /** Checks that the fault says at least what was found. */
  public InputFault {
    if (found.isBlank()) {
      throw new IllegalArgumentException("a fault says what was found");
    }
  }

  /**
   * A fault whose remedy is plain from what was expected.
   *
   * @param place where
   * @param found what was found
   * @param expected what was expected
   * @return the fault
   */
  public static InputFault of(FilePlace place, String found, String expected) {
    return new InputFault(place, found, expected, "");
  }

  /** Prints {@code where: found; expected this. Do that.} on one line. */
  @Override
  public String toString() {
    StringBuilder line = new StringBuilder();
    line.append(place).append(": ").append(found);
    if (!expected.isEmpty()) {
      line.append("; expected ").append(expected);
    }
    line.append('.');
    if (!remedy.isEmpty()) {
      line.append(' ').append(remedy);
    }
    return line.toString();
  }
}
