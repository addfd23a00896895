// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.List;
import java.util.Map;
import java.util.Optional;

/** What an operator sees. */
public sealed interface OperatorScreen {

  /**
   * Answers once per kind.
   *
   * @param visitor what to do for each kind
   * @param <T> what the visitor returns
   * @return what it returned
   */
  <T> T accept(Visitor<T> visitor);

  /**
   * One answer per kind of screen.
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
     * For a board that was tested.
     *
     * @param screen the screen
     * @return the answer
     */
    T tested(Tested screen);

    /**
     * For a reference unit that was tested.
     *
     * @param screen the screen
     * @return the answer
     */
    T checked(Checked screen);

    /**
     * For something worth knowing.
     *
     * @param screen the screen
     * @return the answer
     */
    T told(Message screen);
  }

  /**
   * A scan that nothing is done with.
   *
   * @param scanned what was scanned
   * @param reason why, a sentence
   * @param remedy what to do, a sentence
   */
  record Refused(String scanned, String reason, String remedy) implements OperatorScreen {
    @Override
    public <T> T accept(Visitor<T> visitor) {
      return visitor.refused(this);
    }
  }

  /**
   * No board is tested until the bench was checked.
   *
   * @param reason why, a sentence
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
   * @param board what is tested
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
   * @param result what came of it
   * @param first what its first test came to, which is the one that counts; empty if this is it
   * @param tally how the shift goes so far
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
   * @param check what it came to
   * @param doubtful runs of boards since the last good check, where this one failed
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
   * Something worth knowing.
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
   * How a shift goes.
   *
   * @param first how many first tests came to what
   * @param retests how many retests were made
   * @param refused how many scans were refused
   */
  record Tally(Map<BoardOutcome, Integer> first, int retests, int refused) {
    /** Copies the map. */
    public Tally {
      first = Map.copyOf(first);
    }

    /**
     * First tests of one outcome.
     *
     * @param outcome which
     * @return how many
     */
    public int of(BoardOutcome outcome) {
      return first.getOrDefault(outcome, 0);
    }

    /**
     * All first tests that ended.
     *
     * @return how many units were judged or could not be
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
     * @return how many
     */
    public int passed() {
      return of(BoardOutcome.PASS) + of(BoardOutcome.CONDITIONAL_PASS);
    }
  }
}
