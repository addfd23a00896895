// SPDX-License-Identifier: Apache-2.0
package millrace.planning.boards;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import millrace.planning.boards.BoardForecaster.Stay;

/**
 * A computed board test.
 *
 * @param design the counts of the test
 * @param sequence the text of its file
 * @param stays the time of each of its parts, in order
 * @param risks its risks
 */
public record TriedBoardTest(
    BoardDesign design, String sequence, List<Stay> stays, BoardRisks risks) {
  /** Copies the list. */
  public TriedBoardTest {
    stays = List.copyOf(stays);
  }

  /**
   * The time of the test where nothing ends early.
   *
   * @return s
   */
  public double longestS() {
    return stays.stream().mapToDouble(Stay::seconds).sum();
  }

  /**
   * The number of points, those of later passes included.
   *
   * @return 1 or more
   */
  public int points() {
    return stays.stream().mapToInt(Stay::points).sum();
  }

  /**
   * The mean time of the test: the whole first pass, and later passes for the boards that need
   * them. The shorter time of boards that fail is not counted.
   *
   * @return s
   */
  public double meanS() {
    Set<String> seen = new HashSet<>();
    double mean = 0;
    for (Stay stay : stays) {
      double share = seen.add(stay.range()) ? 1 : risks.again().getOrDefault(stay.range(), 1.0);
      mean += share * stay.seconds();
    }
    return mean;
  }

  /**
   * The time and the number of points of the first pass over a range.
   *
   * @param range the name of the range
   * @return the first stay of the range
   */
  public Stay first(String range) {
    return stays.stream().filter(s -> s.range().equals(range)).findFirst().orElseThrow();
  }
}
