// SPDX-License-Identifier: Apache-2.0
package millrace.planning.boards;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import millrace.planning.boards.BoardForecaster.Stay;

/**
 * A board test that was computed.
 *
 * @param design how much it has of what
 * @param sequence the text of its file
 * @param stays how long each of its parts takes, in order
 * @param risks what it comes to
 */
public record TriedBoardTest(
    BoardDesign design, String sequence, List<Stay> stays, BoardRisks risks) {
  /** Copies the list. */
  public TriedBoardTest {
    stays = List.copyOf(stays);
  }

  /**
   * How long it takes where nothing ends early.
   *
   * @return s
   */
  public double longestS() {
    return stays.stream().mapToDouble(Stay::seconds).sum();
  }

  /**
   * How many points it has, those of later passes too.
   *
   * @return 1 or more
   */
  public int points() {
    return stays.stream().mapToInt(Stay::points).sum();
  }

  /**
   * How long it takes on average: the first pass whole, later ones for the boards that need them.
   * That boards which fail end sooner is not counted on.
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
   * How long the first pass over a range takes, and how many points it has.
   *
   * @param range its name
   * @return of the first stay
   */
  public Stay first(String range) {
    return stays.stream().filter(s -> s.range().equals(range)).findFirst().orElseThrow();
  }
}
