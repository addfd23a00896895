// SPDX-License-Identifier: Apache-2.0
package millrace.exchange;

import java.util.List;
import java.util.UUID;

/**
 * A run that an import made.
 *
 * @param run its local number
 * @param uuid its number everywhere
 * @param unit serial number of the unit
 * @param readings how many rows of the file it holds, 1 or more
 * @param points how many points they make, 1 or more
 * @param flagged how many of the points are flagged, 0 or more
 * @param notes what a reader should know, whole sentences
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
