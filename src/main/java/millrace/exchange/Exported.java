// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.util.List;

/**
 * What an export came to.
 *
 * @param rows how many rows stand below the header, 0 or more
 * @param notes what a reader should know, whole sentences
 */
public record Exported(long rows, List<String> notes) {
  /** Copies the list. */
  public Exported {
    notes = List.copyOf(notes);
  }
}
