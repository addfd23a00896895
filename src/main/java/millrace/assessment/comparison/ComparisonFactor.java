// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

/** What runs may have in common, and what may make them differ. */
public enum ComparisonFactor {
  /** The instruments, known by the current meter. */
  BENCH("bench", "benches"),
  /** The batch of the unit. */
  BATCH("batch", "batches"),
  /** Who measured. */
  OPERATOR("operator", "operators"),
  /** Fixture and cables. */
  FIXTURE("fixture", "fixtures");

  private final String text;
  private final String several;

  ComparisonFactor(String text, String several) {
    this.text = text;
    this.several = several;
  }

  /**
   * The word for one.
   *
   * @return such as {@code bench}
   */
  public String text() {
    return text;
  }

  /**
   * The word for several.
   *
   * @return such as {@code benches}
   */
  public String several() {
    return several;
  }
}
