// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

/**
 * Between which two moments a unit became another (methods.md 9).
 *
 * @param before the last moment at which it was what it had been
 * @param after the first at which it was not
 */
public record MidRunChange(CauseObservation.Moment before, CauseObservation.Moment after) {

  /**
   * The change in words.
   *
   * @return for example {@code between 02:10 and 02:40 the unit changed}
   */
  public String inWords() {
    return "between %s and %s the unit changed".formatted(before.inWords(), after.inWords());
  }
}
