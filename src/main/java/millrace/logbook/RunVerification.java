// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.util.List;
import java.util.Optional;

/**
 * The outcome of checking a run against its digest and seals.
 *
 * @param computed the digest of the data as they stand
 * @param stored the digest stored when the run ended; empty while it is unfinished
 * @param seals its seals, the last one last; empty where it neither ended nor was judged
 * @param faults what is wrong, in whole sentences; empty if nothing is
 */
public record RunVerification(
    String computed, Optional<String> stored, List<Seal> seals, List<String> faults) {
  /** Copies the lists. */
  public RunVerification {
    seals = List.copyOf(seals);
    faults = List.copyOf(faults);
  }

  /**
   * The seal of a run after something was added to it.
   *
   * @param what was added: end, judging, note, plan change or signature
   * @param seal 64 hexadecimal digits
   */
  public record Seal(String what, String seal) {}

  /**
   * Tells whether the run is verified without faults.
   *
   * @return true if the file is whole, the run ended, and its data, judgings and notes are those
   *     that were stored
   */
  public boolean sound() {
    return faults.isEmpty() && stored.isPresent();
  }
}
