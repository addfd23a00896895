// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.util.List;
import java.util.UUID;

/**
 * What was taken out of a pack.
 *
 * @param seal SHA-256 over everything in the pack, 64 hexadecimal digits
 * @param runs its runs, in its order
 */
public record UnpackedRuns(String seal, List<Run> runs) {
  /** Copies the list. */
  public UnpackedRuns {
    runs = List.copyOf(runs);
  }

  /**
   * One run.
   *
   * @param id its local number
   * @param uuid its number everywhere
   * @param unit serial number of the unit
   * @param fresh false if it was there already
   * @param more true if judgings or remarks came with it that were not there
   */
  public record Run(long id, UUID uuid, String unit, boolean fresh, boolean more) {}
}
