// SPDX-License-Identifier: Apache-2.0
package millrace.time;

import java.util.SplittableRandom;

/**
 * The one source of randomness: every generator comes from a seed and a name, so that streams are
 * independent and a run can be repeated.
 *
 * <p>Immutable and thread-safe; the generators handed out are not.
 *
 * @param seed the seed
 */
public record Seeds(long seed) {

  /**
   * A generator of its own for one purpose.
   *
   * @param purpose what it is for; the same name gives the same stream
   * @return a fresh generator at the start of that stream
   */
  public SplittableRandom stream(String purpose) {
    long h = 0xcbf29ce484222325L;
    for (int i = 0; i < purpose.length(); i++) {
      h = (h ^ purpose.charAt(i)) * 0x100000001b3L;
    }
    return new SplittableRandom(seed * 0x9e3779b97f4a7c15L ^ h);
  }

  /**
   * Seeds derived for one purpose, to be split further.
   *
   * @param purpose what they are for
   * @return the derived seeds
   */
  public Seeds derive(String purpose) {
    return new Seeds(stream(purpose).nextLong());
  }
}
