// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.List;

/**
 * What runs may have in common, and what may make them differ.
 *
 * @param text the word for one, such as {@code bench}; not blank
 * @param several the word for several
 */
public record ComparisonFactor(String text, String several) {
  /** The instruments, known by the current meter. */
  public static final ComparisonFactor BENCH = new ComparisonFactor("bench", "benches");

  /** The batch of the unit. */
  public static final ComparisonFactor BATCH = new ComparisonFactor("batch", "batches");

  /** Who measured. */
  public static final ComparisonFactor OPERATOR = new ComparisonFactor("operator", "operators");

  /** Fixture and cables. */
  public static final ComparisonFactor FIXTURE = new ComparisonFactor("fixture", "fixtures");

  /** The slot of fixture or chamber that the unit sat in. */
  public static final ComparisonFactor SLOT = new ComparisonFactor("slot", "slots");

  /** Those that every run is asked for. */
  public static final List<ComparisonFactor> OF_RUNS =
      List.of(BENCH, BATCH, OPERATOR, FIXTURE, SLOT);

  /**
   * A factor that Millrace knows nothing of, such as the reel of a part.
   *
   * @param name what a file calls it
   * @return the factor
   */
  static ComparisonFactor own(String name) {
    return new ComparisonFactor(name, "groups of " + name);
  }
}
