// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.util.Optional;

/** An instrument's side of a conversation: takes a line and may answer with one. */
interface SimLineResponder {
  /**
   * Takes one line.
   *
   * @return the reply; empty if the line has none
   */
  Optional<String> hear(String line);

  /** Resets every setting, as after a power cut. */
  void powerOn();

  /** Fills its error storage. */
  void complain();
}
