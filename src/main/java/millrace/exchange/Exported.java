// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.util.List;

/**
 * The result of an export.
 *
 * @param rows the number of rows below the header, 0 or more
 * @param notes notes for readers, whole sentences
 */
public record Exported(long rows, List<String> notes) {
  /** Copies the list. */
  public Exported {
    notes = List.copyOf(notes);
  }
}
