// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.OptionalDouble;

/** Limits as tests write them. */
public final class Limits {
  private Limits() {}

  /** A limit with both sides. */
  public static Limit between(double lower, double upper) {
    return new Limit(OptionalDouble.of(lower), OptionalDouble.of(upper));
  }
}
