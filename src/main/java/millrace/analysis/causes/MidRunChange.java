// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.causes;

/**
 * The two moments between which a unit changed (methods.md 9).
 *
 * @param before the last moment before the change was seen
 * @param after the first moment at which it was seen
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
