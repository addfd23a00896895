// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.Optional;

/** Where the operator sits: shows screens, takes scans. One thread. */
public interface OperatorStation {
  /**
   * Asks for a scan, or for words typed in its place.
   *
   * @param prompt what to scan
   * @return the scan without blanks around it, may be empty text; empty when nobody is there any
   *     more
   */
  Optional<String> scan(String prompt);

  /**
   * Shows a screen.
   *
   * @param screen what happened
   */
  void show(OperatorScreen screen);
}
