// SPDX-License-Identifier: Apache-2.0
package millrace.watch.shift;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.run.control.RunObserver;
import millrace.run.production.OperatorScreen;
import millrace.sequence.Plan.PlannedPoint;

/**
 * The present content of a shift's page, and its open question. An answer counts only for the
 * question that it belongs to, so that a late scan confirms nothing. Thread-safe.
 */
public final class ShiftState implements RunObserver {
  private static final int MOST_SHOWN = 12;
  private static final int LONGEST = 200;

  private final EntryLine line;
  private final String shift;
  private final boolean practice;
  private final List<OperatorScreen.Tested> tested = new ArrayList<>();
  private Optional<OperatorScreen> screen = Optional.empty();
  private Optional<OperatorScreen> outcome = Optional.empty();
  private Optional<OperatorScreen.Checked> checked = Optional.empty();
  private Optional<Ahead> ahead = Optional.empty();
  private Question question = new Question(0, "", false);
  private boolean over;

  /**
   * A question, open until it is answered.
   *
   * @param number its number, from 1; 0 before the first
   * @param text the text of the question
   * @param open whether it waits for an answer
   */
  record Question(int number, String text, boolean open) {}

  /**
   * The content of the page.
   *
   * @param shift the shift
   * @param practice true if nothing is counted
   * @param screen the present screen
   * @param outcome the last outcome, of a board or of a check
   * @param checked the last check of the bench
   * @param tested the latest boards, the newest first
   * @param ahead the progress of the test in progress; empty without one
   * @param question the question
   * @param over whether the session has ended
   */
  record Shown(
      String shift,
      boolean practice,
      Optional<OperatorScreen> screen,
      Optional<OperatorScreen> outcome,
      Optional<OperatorScreen.Checked> checked,
      List<OperatorScreen.Tested> tested,
      Optional<Ahead> ahead,
      Question question,
      boolean over) {
    Shown {
      tested = List.copyOf(tested);
    }
  }

  /**
   * Creates the state of a shift that has not begun.
   *
   * @param shift the shift
   * @param practice true if nothing is counted
   * @param line takes the entries of the page, as if they were typed
   */
  public ShiftState(String shift, boolean practice, EntryLine line) {
    this.shift = shift;
    this.practice = practice;
    this.line = line;
  }

  synchronized Shown shown() {
    return new Shown(shift, practice, screen, outcome, checked, tested, ahead, question, over);
  }

  synchronized void show(OperatorScreen now) {
    screen = Optional.of(now);
    ahead = Optional.empty();
    if (now instanceof OperatorScreen.Tested board) {
      outcome = screen;
      tested.add(0, board);
      if (tested.size() > MOST_SHOWN) {
        tested.remove(MOST_SHOWN);
      }
    } else if (now instanceof OperatorScreen.Checked check) {
      outcome = screen;
      checked = Optional.of(check);
    }
  }

  synchronized void asks(String text) {
    question = new Question(question.number() + 1, text, true);
  }

  /** Closes the question; an unread answer goes to no other question. */
  synchronized void answered() {
    close();
    line.withdraw();
  }

  private void close() {
    question = new Question(question.number(), question.text(), false);
  }

  /** Ends the session and closes the question. */
  public synchronized void end() {
    over = true;
    ahead = Optional.empty();
    close();
  }

  /**
   * Takes an entry of the page, scanned or typed.
   *
   * @param number the number of the question that the page showed
   * @param answer the answer
   * @return a confirmation, in words
   * @throws BadInputException if that question is closed, or the answer is not one line
   */
  public synchronized String answer(int number, String answer) {
    if (over) {
      throw refused(answer, "the session has ended", "a session that goes on");
    }
    if (!question.open()) {
      throw refused(answer, "nothing is asked at the moment", "a scan after the outcome is shown");
    }
    if (number != question.number()) {
      throw refused(answer, "the question has changed meanwhile", "an answer to what is asked now");
    }
    if (answer.length() > LONGEST) {
      throw refused(answer, "it is too long", "at most " + LONGEST + " characters");
    }
    close();
    line.enter(answer);
    return answer.isBlank() ? "Taken: nothing." : "Taken: " + answer;
  }

  private static BadInputException refused(String answer, String found, String expected) {
    String shown = answer.length() > 40 ? answer.substring(0, 40) + "..." : answer;
    return new BadInputException(
        new InputFault(
            FilePlace.of("'" + shown + "'"), found, expected, "It was left out: scan it again."));
  }

  @Override
  public synchronized void point(PlannedPoint point, Ahead now) {
    ahead = Optional.of(now);
  }
}
