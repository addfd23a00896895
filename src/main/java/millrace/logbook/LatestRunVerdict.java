// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.util.List;
import java.util.Optional;
import millrace.evidence.Conformity;
import millrace.evidence.ResultQuantity;

/**
 * The latest judgement of a run, for a list.
 *
 * @param run its local number
 * @param limits how its limits were met, each outcome once; empty where it was not judged
 * @param failedFirst the first of its results that failed
 */
public record LatestRunVerdict(long run, List<Conformity> limits, Optional<Failed> failedFirst) {
  /**
   * A result that failed.
   *
   * @param quantity what
   * @param range in which range; empty for the whole unit
   */
  public record Failed(ResultQuantity quantity, Optional<String> range) {}

  /** Copies the list. */
  public LatestRunVerdict {
    limits = List.copyOf(limits);
  }

  /**
   * A run that was not judged.
   *
   * @param run its local number
   * @return nothing but that
   */
  public static LatestRunVerdict none(long run) {
    return new LatestRunVerdict(run, List.of(), Optional.empty());
  }
}
