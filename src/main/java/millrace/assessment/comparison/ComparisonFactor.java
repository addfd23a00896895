// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.List;

/**
 * A factor that groups runs and may make their results differ.
 *
 * @param text its name in the singular, such as {@code bench}; not blank
 * @param several its name in the plural
 */
public record ComparisonFactor(String text, String several) {
  /** The instruments, identified by the current meter. */
  public static final ComparisonFactor BENCH = new ComparisonFactor("bench", "benches");

  /** The batch of the unit. */
  public static final ComparisonFactor BATCH = new ComparisonFactor("batch", "batches");

  /** The operator. */
  public static final ComparisonFactor OPERATOR = new ComparisonFactor("operator", "operators");

  /** Fixture and cables. */
  public static final ComparisonFactor FIXTURE = new ComparisonFactor("fixture", "fixtures");

  /** The slot of fixture or chamber that the unit sat in. */
  public static final ComparisonFactor SLOT = new ComparisonFactor("slot", "slots");

  /** The shift of production. */
  public static final ComparisonFactor SHIFT = new ComparisonFactor("shift", "shifts");

  /** All instruments together, by their serial numbers. */
  public static final ComparisonFactor INSTRUMENT =
      new ComparisonFactor("instrument", "sets of instruments");

  /** The factors whose groups are held against one another in every comparison. */
  public static final List<ComparisonFactor> OF_RUNS =
      List.of(BENCH, BATCH, OPERATOR, FIXTURE, SLOT);

  /** The factors that group runs where a person asks for it. */
  public static final List<ComparisonFactor> ON_DEMAND = List.of(SHIFT, INSTRUMENT);

  /**
   * A factor from a user's file, such as the reel of a part.
   *
   * @param name its name in the file
   * @return the factor
   */
  static ComparisonFactor own(String name) {
    return new ComparisonFactor(name, "groups of " + name);
  }
}
