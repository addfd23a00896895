// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.List;
import java.util.Map;
import java.util.Optional;

/** A screen for the operator. */
public sealed interface OperatorScreen {

  /**
   * Calls the method for its kind.
   *
   * @param visitor one method for each kind
   * @param <T> the type of the answer
   * @return the answer of the visitor
   */
  <T> T accept(Visitor<T> visitor);

  /**
   * One method for each kind of screen.
   *
   * @param <T> the type of the answer
   */
  interface Visitor<T> {
    /**
     * For a refused scan.
     *
     * @param screen the screen
     * @return the answer
     */
    T refused(Refused screen);

    /**
     * For a locked bench.
     *
     * @param screen the screen
     * @return the answer
     */
    T locked(Locked screen);

    /**
     * For a test that begins.
     *
     * @param screen the screen
     * @return the answer
     */
    T testing(Testing screen);

    /**
     * For a tested board.
     *
     * @param screen the screen
     * @return the answer
     */
    T tested(Tested screen);

    /**
     * For a tested reference unit.
     *
     * @param screen the screen
     * @return the answer
     */
    T checked(Checked screen);

    /**
     * For a message.
     *
     * @param screen the screen
     * @return the answer
     */
    T told(Message screen);
  }

  /**
   * A scan that is refused.
   *
   * @param scanned what was scanned
   * @param reason the reason, a sentence
   * @param remedy what to do, a sentence
   */
  record Refused(String scanned, String reason, String remedy) implements OperatorScreen {
    @Override
    public <T> T accept(Visitor<T> visitor) {
      return visitor.refused(this);
    }
  }

  /**
   * The bench is locked: no board is tested before a check of the bench.
   *
   * @param reason the reason, a sentence
   * @param remedy what to do, a sentence
   */
  record Locked(String reason, String remedy) implements OperatorScreen {
    @Override
    public <T> T accept(Visitor<T> visitor) {
      return visitor.locked(this);
    }
  }

  /**
   * A test begins.
   *
   * @param board the board
   */
  record Testing(BoardTestJob board) implements OperatorScreen {
    @Override
    public <T> T accept(Visitor<T> visitor) {
      return visitor.testing(this);
    }
  }

  /**
   * A board was tested.
   *
   * @param board the board
   * @param result its result
   * @param first the outcome of its first test, which counts; empty if this is the first
   * @param tally the counts of the shift so far
   */
  record Tested(BoardTestJob board, BoardResult result, Optional<BoardOutcome> first, Tally tally)
      implements OperatorScreen {
    @Override
    public <T> T accept(Visitor<T> visitor) {
      return visitor.tested(this);
    }
  }

  /**
   * The bench was checked with its reference unit.
   *
   * @param board the reference unit
   * @param check the result
   * @param doubtful runs of boards since the last good check, if this one failed
   */
  record Checked(BoardTestJob board, BenchSelfCheck check, List<Long> doubtful)
      implements OperatorScreen {
    /** Copies the list. */
    public Checked {
      doubtful = List.copyOf(doubtful);
    }

    @Override
    public <T> T accept(Visitor<T> visitor) {
      return visitor.checked(this);
    }
  }

  /**
   * A message.
   *
   * @param headline a few words
   * @param lines sentences
   */
  record Message(String headline, List<String> lines) implements OperatorScreen {
    /** Copies the list. */
    public Message {
      lines = List.copyOf(lines);
    }

    @Override
    public <T> T accept(Visitor<T> visitor) {
      return visitor.told(this);
    }
  }

  /**
   * The counts of a shift.
   *
   * @param first the number of first tests by outcome
   * @param retests the number of retests
   * @param refused the number of refused scans
   */
  record Tally(Map<BoardOutcome, Integer> first, int retests, int refused) {
    /** Copies the map. */
    public Tally {
      first = Map.copyOf(first);
    }

    /**
     * The first tests with one outcome.
     *
     * @param outcome the outcome
     * @return the number
     */
    public int of(BoardOutcome outcome) {
      return first.getOrDefault(outcome, 0);
    }

    /**
     * All first tests that ended.
     *
     * @return the number
     */
    public int units() {
      return first.entrySet().stream()
          .filter(e -> e.getKey().ended())
          .mapToInt(Map.Entry::getValue)
          .sum();
    }

    /**
     * First tests that passed.
     *
     * @return the number
     */
    public int passed() {
      return of(BoardOutcome.PASS) + of(BoardOutcome.CONDITIONAL_PASS);
    }
  }
}
