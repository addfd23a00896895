// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import java.util.OptionalDouble;
import millrace.evidence.IncidentKind;
import millrace.evidence.part.AskedPartValue;
import millrace.quantity.QuantityException;
import millrace.run.control.OperatorPrompt;
import millrace.run.interlock.InterlockWaiting;
import millrace.run.journal.Journal;
import millrace.sequence.Task;

/** Puts a question of a sequence, and keeps what was answered. Single-threaded. */
final class QuestionToOperator {
  /** How often a person is asked before a value is given up. */
  private static final int TIMES = 3;

  private final OperatorPrompt operator;
  private final InterlockWaiting waiting;
  private final Journal journal;

  QuestionToOperator(OperatorPrompt operator, InterlockWaiting waiting, Journal journal) {
    this.operator = operator;
    this.waiting = waiting;
    this.journal = journal;
  }

  /**
   * Asks. An answer that is no value of what is asked for is asked for again; where none comes, the
   * run goes on without it and says so.
   *
   * @param task the question
   * @param degC temperature of the unit as set, degC; empty if nobody set one
   */
  void put(Task.Ask task, OptionalDouble degC) {
    if (task.asked().isEmpty()) {
      answer(task.text());
      return;
    }
    AskedPartValue asked = task.asked().get();
    String question = task.text();
    for (int i = 0; i < TIMES; i++) {
      String answer = answer(question);
      try {
        journal.incident(IncidentKind.OPERATOR, asked.answered(answer, degC).text());
        return;
      } catch (QuantityException e) {
        question = task.text() + " (expected " + like(asked) + ")";
      }
    }
    journal.incident(
        IncidentKind.CAUTION,
        "no %s of %s was answered: that value is missing"
            .formatted(asked.quantity().text(), asked.of()));
  }

  private static String like(AskedPartValue asked) {
    return "%s, as in '%s'"
        .formatted(asked.quantity().dimension().inWords(), asked.quantity().dimension().example());
  }

  private String answer(String question) {
    String answer = operator.ask(question);
    waiting.goodReading();
    journal.incident(IncidentKind.OPERATOR, "asked '%s': %s".formatted(question, answer));
    return answer;
  }
}
