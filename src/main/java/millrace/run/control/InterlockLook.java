// SPDX-License-Identifier: Apache-2.0
package millrace.run.control;

import java.util.OptionalDouble;

/**
 * What an interlock saw at one look.
 *
 * @param what the watched quantity, such as {@code chamber temperature}
 * @param value in its base unit; empty where it has no number
 * @param words what was seen where it has no number, such as {@code door closed}; else empty
 */
public record InterlockLook(String what, OptionalDouble value, String words) {
  /** A number was seen. */
  public static InterlockLook number(String what, double value) {
    return new InterlockLook(what, OptionalDouble.of(value), "");
  }

  /** A state was seen. */
  public static InterlockLook state(String what, String words) {
    return new InterlockLook(what, OptionalDouble.empty(), words);
  }
}
