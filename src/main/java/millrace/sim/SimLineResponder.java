// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.util.Optional;

/** An instrument's side of a conversation: a line in, perhaps a line out. */
interface SimLineResponder {
  /**
   * Takes one line.
   *
   * @return the reply; empty if the line has none
   */
  Optional<String> hear(String line);

  /** Forgets every setting, as when the mains came back. */
  void powerOn();

  /** Fills whatever it keeps errors in. */
  void complain();
}
