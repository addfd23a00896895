// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.Optional;

/** The operator's place: shows screens, takes scans. One thread. */
public interface OperatorStation {
  /**
   * Asks for a scan or typed words.
   *
   * @param prompt what to scan
   * @return the scan without surrounding blanks, perhaps an empty text; empty at the end of the
   *     input
   */
  Optional<String> scan(String prompt);

  /**
   * Shows a screen.
   *
   * @param screen the screen
   */
  void show(OperatorScreen screen);
}
