// SPDX-License-Identifier: Apache-2.0
package millrace.planning.boards;

import java.util.List;

/** A count of a board test that can be reduced; its steps go from the most to the least. */
public enum BoardLever {
  /** Loads in one pass for the line of a range. */
  LOADS("loads of a pass", List.of(9, 7, 5, 4)),
  /** Readings of current at a point. */
  READINGS("readings of a point", List.of(8, 6, 5, 4, 3)),
  /** Readings of a zero. */
  ZEROS("readings of a zero", List.of(5, 3, 2));

  private final String text;
  private final List<Integer> amounts;

  BoardLever(String text, List<Integer> amounts) {
    this.text = text;
    this.amounts = amounts;
  }

  /**
   * The lever in words.
   *
   * @return such as {@code readings of a point}
   */
  public String text() {
    return text;
  }

  /** The most first. */
  List<Integer> amounts() {
    return amounts;
  }
}
