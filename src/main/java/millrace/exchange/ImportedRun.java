// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.util.List;
import java.util.UUID;

/**
 * A run that an import has made.
 *
 * @param run its local number
 * @param uuid its universally unique number
 * @param unit serial number of the unit
 * @param readings the number of rows of the file in it, 1 or more
 * @param points the number of its points, 1 or more
 * @param flagged the number of flagged points, 0 or more
 * @param notes notes for readers, whole sentences
 */
public record ImportedRun(
    long run,
    UUID uuid,
    String unit,
    long readings,
    long points,
    long flagged,
    List<String> notes) {

  /** Copies the list. */
  public ImportedRun {
    notes = List.copyOf(notes);
  }
}
