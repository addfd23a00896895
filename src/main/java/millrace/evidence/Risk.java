// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import java.util.OptionalDouble;

/**
 * The risks of a wrong decision (JCGM 106:2012, clauses 9.3 and 9.5; methods.md 7.1).
 *
 * @param specific probability that this verdict is wrong, 0 to 1: of an accepted unit that it lies
 *     outside, of a rejected one that it lies inside; empty without an uncertainty or verdict
 * @param globalConsumer probability that a unit of the batch lies outside and is accepted, 0 to 1;
 *     empty where the batch's spread is not known
 * @param globalProducer probability that a unit of the batch lies inside and is rejected, 0 to 1;
 *     empty where the batch's spread is not known
 */
public record Risk(
    OptionalDouble specific, OptionalDouble globalConsumer, OptionalDouble globalProducer) {

  /** Nothing is known of it. */
  public static final Risk UNKNOWN =
      new Risk(OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty());

  /** Checks the probabilities. */
  public Risk {
    checked(specific);
    checked(globalConsumer);
    checked(globalProducer);
  }

  private static void checked(OptionalDouble risk) {
    if (risk.isPresent() && !(risk.getAsDouble() >= 0 && risk.getAsDouble() <= 1)) {
      throw new IllegalArgumentException(
          "a risk is " + risk.getAsDouble() + ", must be from 0 to 1");
    }
  }
}
