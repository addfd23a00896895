// SPDX-License-Identifier: Apache-2.0
package millrace.planning.boards;

import java.util.List;
import java.util.Optional;
import millrace.evidence.DecisionRule.Risks;
import millrace.planning.LimitForecast;

/**
 * The result of a search for a board test.
 *
 * @param test the proposed test
 * @param stated the stated risks
 * @param spread the source of the spread of boards, in words
 * @param hindrances the limits that keep every test from meeting the risks; empty where they are
 *     met
 * @param kept the counts that could be smaller, each with the risk that would then be exceeded
 * @param sequential the smallest mean number of passes by Wald's test; empty where nothing is
 *     measured again
 * @param searched whether the search came to its end; false if it ran out of time
 */
public record BoardPlan(
    TriedBoardTest test,
    Risks stated,
    List<String> spread,
    List<Hindrance> hindrances,
    List<String> kept,
    Optional<FewestPasses> sequential,
    boolean searched) {
  /** Copies the lists. */
  public BoardPlan {
    spread = List.copyOf(spread);
    hindrances = List.copyOf(hindrances);
    kept = List.copyOf(kept);
  }

  /**
   * Whether both risks are met.
   *
   * @return true without hindrances
   */
  public boolean isHeld() {
    return hindrances.isEmpty();
  }

  /** The kind of hindrance. */
  public enum Trouble {
    /** Too many boards that break the limit pass. */
    CONSUMER("too many boards that break it pass"),
    /** Too many boards that meet the limit fail. */
    PRODUCER("too many boards that meet it fail"),
    /** A test does not evaluate the limit. */
    NOT_EVALUATED("not evaluated by a board test"),
    /** The spread of boards is not known for the limit. */
    NO_SPREAD("nothing tells how boards spread in it");

    private final String text;

    Trouble(String text) {
      this.text = text;
    }

    /**
     * The kind in words.
     *
     * @return such as {@code too many boards that meet it fail}
     */
    public String text() {
      return text;
    }
  }

  /**
   * A limit that keeps a risk from being met, even by the test with the most of everything.
   *
   * @param risk the limit with its risks
   * @param trouble the kind of hindrance
   * @param neededU the largest U that reduces its part of the risk far enough, in the unit of the
   *     result; empty where no U does, or where the kind is another
   */
  public record Hindrance(BoardRisks.LimitRisk risk, Trouble trouble, Optional<Double> neededU) {}

  /**
   * The smallest mean number of passes of any sequential test with the same risks, for a board
   * whose parts are nominal (Wald 1947).
   *
   * @param limit the limit that needs the most passes
   * @param passes above 0; below 1 where part of a pass is enough
   */
  public record FewestPasses(LimitForecast limit, double passes) {}
}
