// SPDX-License-Identifier: Apache-2.0
package millrace.run.control;

/** Puts a question to a person. */
public interface OperatorPrompt {
  /**
   * Asks and waits for the answer.
   *
   * @param question the question
   * @return what the person typed; a text that says so if nobody is there
   */
  String ask(String question);

  /**
   * Sets what is called repeatedly while an answer is awaited, in the thread that asks.
   *
   * @param act short; what it throws ends the waiting
   */
  default void whileWaiting(Runnable act) {}
}
