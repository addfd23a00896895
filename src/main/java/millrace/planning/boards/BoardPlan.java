// SPDX-License-Identifier: Apache-2.0
package millrace.planning.boards;

import java.util.List;
import java.util.Optional;
import millrace.evidence.DecisionRule.Risks;
import millrace.planning.LimitForecast;

/**
 * What a search for a board test found.
 *
 * @param test the test that is proposed
 * @param stated the risks that were asked for
 * @param spread what tells how boards spread, in words
 * @param hindrances what keeps the risks from being held by any test; empty where they are held
 * @param kept what there could be less of, and which risk that would be too much for
 * @param sequential by Wald's test: the fewest passes on average; empty where nothing is measured
 *     again
 * @param searched whether the search came to its end; else its time was up
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
   * Whether both risks are held.
   *
   * @return true where nothing hinders
   */
  public boolean isHeld() {
    return hindrances.isEmpty();
  }

  /** What is wrong with a limit. */
  public enum Trouble {
    /** Too many boards that break it pass. */
    CONSUMER("too many boards that break it pass"),
    /** Too many boards that meet it fail. */
    PRODUCER("too many boards that meet it fail"),
    /** A test does not evaluate it. */
    NOT_EVALUATED("not evaluated by a board test"),
    /** Nothing tells how boards spread in it. */
    NO_SPREAD("nothing tells how boards spread in it");

    private final String text;

    Trouble(String text) {
      this.text = text;
    }

    /**
     * In words.
     *
     * @return such as {@code too many boards that meet it fail}
     */
    public String text() {
      return text;
    }
  }

  /**
   * A limit that keeps a risk from being held, by the richest test.
   *
   * @param risk the limit with its risks
   * @param trouble what is wrong
   * @param neededU the largest U that would bring its part of the risk down far enough, in the unit
   *     of the result; empty where none would, or that is not the trouble
   */
  public record Hindrance(BoardRisks.LimitRisk risk, Trouble trouble, Optional<Double> neededU) {}

  /**
   * How few passes any sequential test with the same risks gets by with on average, a board being
   * as it is meant to be (Wald 1947).
   *
   * @param limit the limit that needs most
   * @param passes above 0; below 1 where a part of a pass would do
   */
  public record FewestPasses(LimitForecast limit, double passes) {}
}
