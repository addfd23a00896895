// SPDX-License-Identifier: Apache-2.0
package millrace;

import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

/** Guards assertions that are made of each of several: of none they would all hold. */
public final class NotEmpty {
  private NotEmpty() {}

  /**
   * Fails if there is nothing to assert anything of.
   *
   * @param all what is asserted one by one
   * @param <C> its type
   * @return the same
   */
  public static <C extends Iterable<?>> C notEmpty(C all) {
    assertTrue(all.iterator().hasNext(), "there is nothing to check");
    return all;
  }

  /**
   * Fails if there is nothing to assert anything of.
   *
   * @param all what is asserted one by one
   * @param <T> the type of one
   * @return the same
   */
  public static <T> T[] notEmpty(T[] all) {
    assertNotEquals(0, all.length, "there is nothing to check");
    return all;
  }
}
