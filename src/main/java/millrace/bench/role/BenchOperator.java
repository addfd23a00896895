// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble;

/**
 * The person at the bench who sets instruments by hand and types what they show. Implementations
 * are thread-safe: one question at a time.
 */
public interface BenchOperator {
  /** No person is there: every question is an error. */
  BenchOperator NOBODY =
      question -> {
        throw new InstrumentException(
            InstrumentTrouble.of(
                    InstrumentTrouble.Kind.NO_REPLY,
                    "by hand",
                    "nobody is there to answer: " + question)
                .with("a person at the terminal", "Run it from a terminal, not unattended."));
      };

  /**
   * Asks and waits for an answer.
   *
   * @param question what to do or to read, a whole sentence
   * @return what was typed, and by whom
   * @throws millrace.fault.InstrumentException if nobody can answer
   */
  Answer ask(String question);

  /**
   * What a person typed.
   *
   * @param text as typed, without the end of line
   * @param by who it was; empty if nobody gave a name
   */
  record Answer(String text, String by) {}
}
