package millrace.logbook;

import java.util.List;
import java.util.Optional;

/**
 * What checking a run against its digest came to.
 *
 * @param computed the digest of the data as they stand
 * @param stored the digest stored when the run ended; empty while it is unfinished
 * @param faults what is wrong, in whole sentences; empty if nothing is
 */
public record Verification(String computed, Optional<String> stored, List<String> faults) {
  /** Copies the list. */
  public Verification {
    faults = List.copyOf(faults);
  }

  /**
   * Tells whether nothing is wrong.
   *
   * @return true if the file is whole and the data are those that were stored
   */
  public boolean sound() {
    return faults.isEmpty();
  }
}
